#include "catalog/bounds.h"
#include "catalog/insulation.h"
#include "design/colour.h"
#include "design/wire_statement.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

class WireReader {
public:
    explicit WireReader(Reading& reading)
        : reading_(reading) {}

    // Errors inside a wire leave it out; the design is then refused as a whole.
    void add(const WireStatement& statement) {
        Wire wire;
        wire.place = statement.place;
        name(statement, wire);
        const auto from = terminal(statement.from);
        const auto to = terminal(statement.to);
        if (from && to && *from == *to) {
            reading_.error(
                ErrorKind::wire_to_itself, statement.to->place,
                fmt::format("this wire leads from '{}' back to '{}'", statement.from->value, statement.to->value),
                "name the other terminal");
        }
        if (from) wire.from = *from;
        if (to) wire.to = *to;
        material(statement, wire.made_of);
        if (statement.length)
            wire.length = Given<dim::length>{statement.length->value, statement.length->place, statement.basis};
        wire.ambient = statement.ambient;
        if (statement.bundle) wire.bundle = statement.bundle->value;
        if (statement.beside) wire.beside_body = reading_.find_body_at(*statement.beside);
        wire.from_end = statement.from_end;
        wire.to_end = statement.to_end;
        ends(statement, wire);
        colour(statement, wire);
        reading_.design.wires.push_back(std::move(wire));
    }

    // Names given by the user are unlike each other and unlike the W1, W2, ... of unnamed wires.
    void check_names() {
        std::unordered_map<std::string_view, std::size_t> given;
        const auto& wires = reading_.design.wires;
        for (const Named& named : named_) given.emplace(wires[named.wire].name, named.wire);
        for (const Named& named : named_) {
            const std::string& name = wires[named.wire].name;
            const bool again = given[name] != named.wire;
            if (!again && !is_default_of_another(name, named.wire)) continue;
            reading_.error(
                ErrorKind::duplicate_name, named.place,
                fmt::format("two wires are called '{}'{}", name, again ? "" : ", the name of an unnamed wire"),
                "give one of them another name");
        }
    }

private:
    struct Named {
        std::size_t wire;
        Place place;
    };

    void name(const WireStatement& statement, Wire& wire) {
        const std::size_t index = reading_.design.wires.size();
        if (!statement.name) {
            wire.name = fmt::format("W{}", index + 1);
            return;
        }
        wire.name = statement.name->value;
        if (reading_.good_name(wire.name, statement.name->place)) named_.push_back({index, statement.name->place});
    }

    bool is_default_of_another(std::string_view name, std::size_t own) const {
        if (!name.starts_with('W') || name.size() > 10) return false;
        std::size_t number = 0;
        for (const char c : name.substr(1)) {
            if (c < '0' || c > '9') return false;
            number = number * 10 + static_cast<std::size_t>(c - '0');
        }
        const auto& wires = reading_.design.wires;
        return number >= 1 && number <= wires.size() && number - 1 != own && wires[number - 1].name == name;
    }

    std::optional<TerminalRef> terminal(const std::optional<Stated<std::string_view>>& reference) {
        return reference ? reading_.find_terminal(*reference) : std::nullopt;
    }

    void material(const WireStatement& statement, WireElement& made_of) {
        const bool stated =
            statement.area || statement.insulation || statement.insulation_class || statement.conductor_class;
        if (statement.use && stated) {
            reading_.error(ErrorKind::ambiguous, statement.use->place,
                           "this wire names a wire part and also states area or insulation itself",
                           "keep one of the two");
        } else if (statement.use) {
            if (const WireElement* known = wire_part(*statement.use)) made_of = *known;
        } else {
            if (statement.area) {
                made_of.area = Given<dim::area>{statement.area->value, statement.area->place, statement.basis};
                made_of.conductor_class = "class 5";
            }
            if (statement.conductor_class)
                made_of.conductor_class = conductor_class_names.at(statement.conductor_class->value);
            if (statement.insulation) {
                const InsulationClass& usual = insulation_classes.at(statement.insulation->value);
                made_of.insulation = insulation_names.at(statement.insulation->value);
                made_of.insulation_class =
                    Given<dim::temperature>{exactly(usual.highest), statement.insulation->place, usual.basis};
            }
            if (const auto& own = statement.insulation_class) {
                made_of.insulation_class = Given<dim::temperature>{own->value, own->place, statement.basis};
            }
        }
    }

    const WireElement* wire_part(const Stated<std::string_view>& use) {
        if (const auto found = wire_parts_.find(use.value); found != wire_parts_.end()) return found->second;
        const Loaded<Part>* loaded = reading_.catalog.find(use.value);
        if (loaded == nullptr) {
            reading_.error(ErrorKind::unknown_name, use.place, fmt::format("there is no wire called '{}'", use.value),
                           reading_.library_hint(use.value, "wire-"));
            return nullptr;
        }
        reading_.errors.insert(reading_.errors.end(), loaded->errors.begin(), loaded->errors.end());
        const WireElement* wire = nullptr;
        if (loaded->value) {
            for (const Element& element : loaded->value->elements) {
                if (const auto* found = std::get_if<WireElement>(&element.body)) wire = found;
            }
            if (wire == nullptr) {
                reading_.error(ErrorKind::wrong_type, use.place, fmt::format("'{}' is not a wire", use.value),
                               "name a wire part, or state area and insulation");
                return nullptr;
            }
        }
        wire_parts_.emplace(use.value, wire);
        return wire;
    }

    void ends(const WireStatement& statement, Wire& wire) {
        if (!statement.ends) return;
        const std::string_view text = statement.ends->value;
        const std::size_t slash = text.find('/');
        const auto from = end(text.substr(0, slash), *statement.ends);
        const auto to = slash == std::string_view::npos ? from : end(text.substr(slash + 1), *statement.ends);
        if (from) wire.from_end = *from;
        if (to) wire.to_end = *to;
    }

    std::optional<WireEnd> end(std::string_view word, const Stated<std::string_view>& stated) {
        const auto found = std::ranges::find(wire_end_names, word);
        if (found != wire_end_names.end()) return static_cast<WireEnd>(found - wire_end_names.begin());
        reading_.error(ErrorKind::unknown_name, stated.place,
                       fmt::format("'{}' is no way to finish a wire's end", word), reading_.hint(word, wire_end_names));
        return std::nullopt;
    }

    void colour(const WireStatement& statement, Wire& wire) {
        if (!statement.colour) return;
        wire.colour = statement.colour->value;
        if (is_colour(wire.colour)) return;
        reading_.error(ErrorKind::unknown_name, statement.colour->place,
                       fmt::format("'{}' is not a colour of IEC 60757", wire.colour), colour_hint(wire.colour));
    }

    Reading& reading_;
    std::unordered_map<std::string_view, const WireElement*> wire_parts_;
    std::vector<Named> named_;
};

// The place of the first letter instead of the quote, as in the one-line form.
std::optional<Stated<std::string_view>> inside_quotes(std::optional<Stated<std::string_view>> text) {
    if (text) text->place.column += 1;
    return text;
}

} // namespace

WireStatement read_wire_table(TableReader& table) {
    WireStatement wire;
    wire.place = table.place();
    wire.from = inside_quotes(table.required_text("from"));
    wire.to = inside_quotes(table.required_text("to"));
    wire.name = table.text("name");
    wire.use = table.text("use");
    wire.area = bounded_range<dim::area>(table, "area", Bounds::positive);
    wire.insulation = table.word("insulation", insulation_names);
    wire.insulation_class = bounded_range<dim::temperature>(table, "insulation_class");
    wire.conductor_class = table.word("conductor_class", conductor_class_names);
    wire.length = bounded_range<dim::length>(table, "length", Bounds::positive);
    wire.ambient = bounded_range<dim::temperature>(table, "ambient");
    wire.colour = table.text("colour");
    wire.bundle = table.text("bundle");
    wire.beside = table.text("beside");
    wire.ends = table.text("ends");
    if (const auto end = table.word("from_end", wire_end_names)) wire.from_end = static_cast<WireEnd>(end->value);
    if (const auto end = table.word("to_end", wire_end_names)) wire.to_end = static_cast<WireEnd>(end->value);
    if (const auto basis = table.word("basis", basis_names)) wire.basis = static_cast<Basis>(basis->value);
    table.finish();
    return wire;
}

void read_wires(Reading& reading, TableReader& root) {
    const auto lines = root.texts("wires");
    auto tables = root.tables("wire");
    const std::size_t count = lines.size() + tables.size();
    if (count > reading.limits.wires) {
        reading.error(ErrorKind::too_large, root.place(),
                      fmt::format("the design has {} wires, but {} are the most", count, reading.limits.wires),
                      "split the design");
        return;
    }
    reading.design.wires.reserve(count);
    WireReader wires(reading);
    for (const auto& line : lines) {
        if (const auto statement = read_wire_line(reading, line)) wires.add(*statement);
    }
    for (TableReader& table : tables) wires.add(read_wire_table(table));
    wires.check_names();
}

} // namespace trivet
