#include "cli/part_search.h"

#include "catalog/property_source.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// How well a range suits what is asked: nothing if it does not, otherwise how much it has to spare.
using Suits = std::optional<double>;

constexpr double nominal_tolerance = 0.1;
constexpr double same_temperature = 5.0; // K: 10 % of a temperature has no meaning

template <Dimension D> Suits at_least(const Perhaps<D>& rating, double asked) {
    if (!rating || rating->range.lo.si < asked) return std::nullopt;
    return std::log(rating->range.lo.si / asked);
}

template <Dimension D> Suits nominal(const Perhaps<D>& value, double asked) {
    if (!value) return std::nullopt;
    const auto slack = [](double end) { return D.point ? same_temperature : end * nominal_tolerance; };
    const auto [lo, hi] = value->range;
    if (asked < lo.si - slack(lo.si) || asked > hi.si + slack(hi.si)) return std::nullopt;
    return std::abs(std::log(value->range.middle().si / asked));
}

// A single value is a nominal one; a range is where it works.
template <Dimension D> Suits works_at(const Perhaps<D>& value, double asked) {
    if (!value || value->range.is_point()) return nominal(value, asked);
    if (!value->range.contains({asked})) return std::nullopt;
    return std::abs(std::log(value->range.middle().si / asked));
}

// Goes through the elements of a part and keeps, for one asked quantity, the one that suits best.
class Finder {
public:
    Finder(const PartQuery& query, const Part& part)
        : query_(query)
        , has_coil_(std::ranges::any_of(part.elements, is_coil) && std::ranges::any_of(part.elements, is_switch))
        , volts_(highest(dim::voltage))
        , amperes_(highest(dim::current)) {}

    std::optional<PartMatch> best_for(const AnyQuantity& asked, const Part& part) {
        asked_ = asked;
        best_.reset();
        for (const Element& element : part.elements)
            std::visit([this](const auto& body) { look_at(body); }, element.body);
        for (const TerminalSpec& terminal : part.terminals) look_at(terminal, part);
        return best_;
    }

private:
    static bool is_coil(const Element& element) {
        return std::holds_alternative<CoilElement>(element.body) || std::holds_alternative<LoadElement>(element.body);
    }
    static bool is_switch(const Element& element) {
        return std::holds_alternative<ContactElement>(element.body) ||
               std::holds_alternative<TransistorElement>(element.body);
    }
    double highest(Dimension dimension) const {
        double found = 0.0;
        for (const AnyQuantity& asked : query_.asked)
            if (asked.dimension == dimension) found = std::max(found, asked.si);
        return found;
    }
    bool asks(Dimension dimension) const { return asked_.dimension == dimension; }
    // Both a voltage and a current are asked: they are what is switched, not what the coil takes.
    bool asks_for_load() const { return volts_ > 0.0 && amperes_ > 0.0; }

    void offer(Suits suits, std::string text) {
        if (suits && (!best_ || *suits < best_->spare)) best_ = PartMatch{std::move(text), *suits};
    }
    template <Dimension D> void offer(Suits suits, std::string_view what, const Perhaps<D>& value) {
        if (suits) offer(suits, fmt::format("{} {}", what, to_text(value->range)));
    }
    template <Dimension D> void at_least_of(std::string_view what, const Perhaps<D>& value) {
        if (asks(D)) offer(at_least(value, asked_.si), what, value);
    }
    template <Dimension D> void nominal_of(std::string_view what, const Perhaps<D>& value) {
        if (asks(D)) offer(nominal(value, asked_.si), what, value);
    }
    template <Dimension D> void works_at_of(std::string_view what, const Perhaps<D>& value) {
        if (asks(D)) offer(works_at(value, asked_.si), what, value);
    }

    static double spare(double offered, double asked) { return asked > 0.0 ? std::log(offered / asked) : 0.0; }

    // Voltage and current are judged together, so both find the same rating.
    void contact_ratings(std::string_view what, const std::vector<ContactRating>& ratings) {
        if (!asks(dim::voltage) && !asks(dim::current)) return;
        if (has_coil_ && !asks_for_load() && asks(dim::voltage)) return;
        for (const ContactRating& stated : ratings) {
            const CurrentAtVoltage& rating = stated.rating;
            if (stated.category != ratings.front().category || rating.alternating != query_.alternating ||
                rating.voltage.si < volts_ || rating.current.si < amperes_)
                continue;
            offer(spare(rating.voltage.si, volts_) + spare(rating.current.si, amperes_),
                  fmt::format("{} {}", what, to_text(rating)));
        }
    }

    void look_at(const ContactElement& contact) { contact_ratings("contact", contact.rated); }
    void look_at(const CutoffElement& cutoff) {
        contact_ratings("rated", cutoff.rated);
        works_at_of("trips at", cutoff.trip);
    }
    void look_at(const TransistorElement& transistor) {
        if (query_.alternating) return;
        at_least_of("switches", transistor.rated_current);
        if (!has_coil_ || asks_for_load()) at_least_of("switches", transistor.rated_voltage);
    }
    void look_at(const FuseElement& fuse) {
        at_least_of("rated", fuse.rated_current);
        if (!query_.alternating) at_least_of("rated", fuse.rated_voltage);
    }
    void look_at(const ConductorElement& conductor) { at_least_of("carries", conductor.rated_current); }
    void look_at(const DiodeElement& diode) {
        at_least_of("carries", diode.rated_current);
        at_least_of("blocks", diode.rated_voltage);
    }
    void look_at(const ConverterElement& converter) {
        works_at_of("gives", converter.output_voltage ? converter.output_voltage : converter.output_range);
        works_at_of("takes", converter.input_voltage);
        at_least_of("gives", converter.rated_output_current);
    }
    void look_at(const SourceElement& source) {
        nominal_of("gives", source.voltage);
        at_least_of("gives", source.rated_current);
        if (!asks(dim::power) || !source.voltage || !source.rated_current) return;
        const double watts = source.voltage->range.middle().si * source.rated_current->range.lo.si;
        if (watts >= asked_.si) offer(std::log(watts / asked_.si), fmt::format("gives {}", to_text(Power{watts})));
    }
    void look_at(const HeaterElement& heater) {
        nominal_of("rated", heater.voltage);
        nominal_of("rated", heater.power);
        nominal_of("has", heater.resistance);
        if (!asks(dim::current) || !heater.voltage || !heater.power) return;
        const Current takes = heater.power->range.hi / heater.voltage->range.lo;
        if (takes.si >= asked_.si) offer(std::log(takes.si / asked_.si), fmt::format("takes {}", to_text(takes)));
    }
    void look_at(const LoadElement& load) {
        if (has_coil_ && asks_for_load()) return;
        works_at_of("works at", load.voltage);
        nominal_of("takes", load.power);
        if (!has_coil_) at_least_of("takes", highest_of(load.current));
    }
    void look_at(const CoilElement& coil) {
        if (!asks_for_load()) works_at_of("coil", coil.voltage);
    }
    void look_at(const ResistorElement& resistor) {
        nominal_of("has", resistor.resistance);
        at_least_of("bears", resistor.rated_power);
    }
    void look_at(const ThermistorElement& thermistor) {
        nominal_of("has", thermistor.resistance);
        works_at_of("works at", thermistor.range);
    }
    void look_at(const WireElement& wire) {
        nominal_of("has", wire.area);
        at_least_of("bears", wire.insulation_class);
    }
    void look_at(const CapacitorElement& capacitor) {
        nominal_of("has", capacitor.capacitance);
        at_least_of("rated", capacitor.rated_voltage);
    }
    void look_at(const MaterialElement& material) { at_least_of("bears", material.limit); }
    template <class Other> void look_at(const Other&) {}

    // Connectors and terminals whose elements state no current of their own.
    void look_at(const TerminalSpec& terminal, const Part& part) {
        const bool connects = std::ranges::all_of(part.elements, [](const Element& element) {
            return std::holds_alternative<ConductorElement>(element.body);
        });
        if (connects) at_least_of("carries", terminal.rated_current);
    }

    static Perhaps<dim::current> highest_of(Perhaps<dim::current> current) {
        if (current) current->range.lo = current->range.hi;
        return current;
    }

    const PartQuery& query_;
    bool has_coil_;
    double volts_;
    double amperes_;
    AnyQuantity asked_;
    std::optional<PartMatch> best_;
};

bool has_words(const Part& part, const std::vector<std::string>& words) {
    const std::string text = lower_case(part.name + " " + part.title + " " + part.category);
    return std::ranges::all_of(words, [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

} // namespace

std::optional<PartMatch> match(const Part& part, const PartQuery& query) {
    if (!has_words(part, query.words)) return std::nullopt;
    PartMatch all;
    Finder finder(query, part);
    for (const AnyQuantity& asked : query.asked) {
        const auto found = finder.best_for(asked, part);
        if (!found) return std::nullopt;
        all.spare += found->spare;
        if (all.deciding.find(found->deciding) != std::string::npos) continue;
        all.deciding += (all.deciding.empty() ? "" : ", ") + found->deciding;
    }
    return all;
}

} // namespace trivet
