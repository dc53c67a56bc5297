#include "catalog/read_part.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

// Two values of one element that cannot both be true.
class Contradictions {
public:
    explicit Contradictions(Errors& errors)
        : errors_(errors) {}

    void operator()(const SourceElement& e) {
        ordered("rated_current", e.rated_current, "limit_current", e.limit_current,
                "a supply limits its current above what it is rated for");
    }
    void operator()(const FuseElement& e) {
        ordered("rated_current", e.rated_current, "breaking_capacity", e.breaking_capacity,
                "a fuse breaks more current than it carries");
    }
    void operator()(const CutoffElement& e) {
        ordered("holding_temperature", e.holding_temperature, "trip", e.trip,
                "a cutoff may be held below the temperature at which it opens");
        ordered("reset_temperature", e.reset_temperature, "trip", e.trip,
                "a cutoff closes again below the temperature at which it opens");
        if (e.reset == CutoffReset::one_shot && e.reset_temperature) {
            errors_.push_back({ErrorKind::ambiguous, e.reset_temperature->place,
                               "a one-shot cutoff never closes again, so it has no reset temperature",
                               "take 'reset_temperature' out, or write reset = \"manual\" or \"self\""});
        }
    }
    void operator()(const TransistorElement& e) {
        ordered("threshold", e.threshold, "drive_needed", e.drive_needed,
                "a transistor begins to conduct before it is fully on");
        ordered("drive_needed", e.drive_needed, "drive_limit", e.drive_limit,
                "a transistor is fully on before its drive is too high");
    }
    void operator()(const ConverterElement& e) {
        ordered("dropout", e.dropout, "input_voltage", e.input_voltage, "a converter loses less than it is fed with");
        ordered("input_voltage", e.input_voltage, "input_limit", e.input_limit,
                "a converter works below the voltage that kills it");
        ordered("rated_output_current", e.rated_output_current, "limit_current", e.limit_current,
                "a converter limits its current above what it is rated for");
    }
    void operator()(const LoadElement& e) {
        ordered("voltage", e.voltage, "voltage_limit", e.voltage_limit, "a load works below the voltage that kills it");
    }
    void operator()(const HeaterElement& e) { joule(e); }
    template <class Other> void operator()(const Other&) {}

private:
    // `lower` lies wholly above `upper`.
    template <Dimension D>
    void ordered(std::string_view lower_key, const Perhaps<D>& lower, std::string_view upper_key,
                 const Perhaps<D>& upper, std::string_view sentence) {
        if (!lower || !upper || lower->range.lo <= upper->range.hi) return;
        errors_.push_back({ErrorKind::out_of_range, lower->place,
                           fmt::format("'{}' is {}, which is above '{}' of {}", lower_key, to_text(lower->range),
                                       upper_key, to_text(upper->range)),
                           std::string(sentence) + ": check both values"});
    }

    // P = V²/R within 25 %; a resistance that changes with temperature covers every value up to the hot one.
    void joule(const HeaterElement& e) {
        if (!e.voltage || !e.resistance || !e.power) return;
        constexpr double slack = 1.25;
        const double squared = e.voltage->range.middle().si * e.voltage->range.middle().si;
        const Power most{squared / e.resistance->range.lo.si};
        const Power least{squared / e.resistance->range.hi.si};
        const bool changes = e.cold_factor || e.temperature_coefficient;
        const bool too_high = e.power->range.lo.si > most.si * slack;
        const bool too_low = !changes && e.power->range.hi.si * slack < least.si;
        if (!too_high && !too_low) return;
        errors_.push_back(
            {ErrorKind::out_of_range, e.power->place,
             fmt::format("'power' is {}, but {} across {} give {}", to_text(e.power->range), to_text(e.voltage->range),
                         to_text(e.resistance->range), to_text(Range<dim::power>{least, most})),
             "power is voltage squared over resistance: leave out the value you did not measure"});
    }

    Errors& errors_;
};

} // namespace

void check_values(const Part& part, Errors& errors) {
    for (const Element& element : part.elements) std::visit(Contradictions(errors), element.body);
}

} // namespace trivet
