#include "catalog/bounds.h"
#include "design/reading.h"

#include <fmt/format.h>

#include <array>

namespace trivet {
namespace {

constexpr std::string_view ambient_name = "ambient";

bool is_material(const Part& part) {
    return std::ranges::any_of(
        part.elements, [](const Element& element) { return std::holds_alternative<MaterialElement>(element.body); });
}

// The name of a material of the library or of the user's own parts; empty when none is stated.
std::string material(Reading& reading, TableReader& table) {
    const auto name = table.text("material");
    if (!name) return {};
    const Loaded<Part>* known = reading.catalog.find(name->value);
    if (known != nullptr && known->value && is_material(*known->value)) return std::string(name->value);
    if (known != nullptr && !known->value) {
        reading.errors.insert(reading.errors.end(), known->errors.begin(), known->errors.end());
        return {};
    }
    const std::string text = known == nullptr ? fmt::format("no material is called '{}'", name->value)
                                              : fmt::format("'{}' is a part, not a material", name->value);
    reading.error(ErrorKind::unknown_name, name->place, text,
                  reading.hint(name->value, reading.catalog.names_with("material")));
    return {};
}

// An end of a heat path: the name of a body, or "ambient".
std::string heat_end(Reading& reading, TableReader& table, std::string_view key) {
    const auto name = table.required_text(key);
    if (!name) return {};
    if (name->value != ambient_name && !reading.body_names.contains(name->value)) {
        std::vector<std::string_view> known(reading.body_names.begin(), reading.body_names.end());
        known.push_back(ambient_name);
        std::ranges::sort(known);
        reading.error(ErrorKind::unknown_name, name->place, fmt::format("there is no body '{}'", name->value),
                      reading.hint(name->value, known));
    }
    return std::string(name->value);
}

std::optional<Stated<double>> emissivity(Reading& reading, TableReader& table) {
    const auto stated = table.number("emissivity");
    if (!stated || (stated->value > 0.0 && stated->value <= 1.0)) return stated;
    reading.error(ErrorKind::out_of_range, stated->place,
                  fmt::format("the emissivity {} lies outside 0 to 1", stated->value),
                  "bare metal has about 0.1, painted or oxidised surfaces about 0.9");
    return std::nullopt;
}

} // namespace

void read_bodies(Reading& reading, TableReader& root) {
    for (TableReader& table : root.tables("body")) {
        Body body;
        body.place = table.place();
        if (const auto name = table.required_text("name")) {
            body.name = name->value;
            if (name->value == ambient_name) {
                reading.error(ErrorKind::out_of_range, name->place,
                              "'ambient' is the air of the room and cannot be a body", "choose another name");
            } else if (!reading.body_names.insert(name->value).second) {
                reading.error(ErrorKind::duplicate_name, name->place,
                              fmt::format("two bodies are called '{}'", name->value), "give one of them another name");
            } else {
                reading.good_name(name->value, name->place);
            }
        }
        body.heated_by = reading.find_parts(table.texts("heated_by"));
        body.mass = bounded_range<dim::mass>(table, "mass", Bounds::positive);
        body.material = material(reading, table);
        body.capacity = bounded_range<dim::heat_capacity>(table, "capacity", Bounds::positive);
        body.limit = bounded_range<dim::temperature>(table, "limit");
        body.touchable = table.flag("touchable");
        table.finish();
        reading.design.bodies.push_back(std::move(body));
    }
}

void read_heat_paths(Reading& reading, TableReader& root) {
    for (TableReader& table : root.tables("heat_path")) {
        HeatPath path;
        path.place = table.place();
        path.from = heat_end(reading, table, "from");
        path.to = heat_end(reading, table, "to");
        if (!path.from.empty() && path.from == path.to) {
            reading.error(ErrorKind::wire_to_itself, path.place,
                          fmt::format("this heat path leads from '{}' back to '{}'", path.from, path.to),
                          "name the other body, or \"ambient\"");
        }
        path.conductance = bounded_range<dim::thermal_conductance>(table, "conductance", Bounds::positive);
        path.area = bounded_range<dim::area>(table, "area", Bounds::positive);
        path.thickness = bounded_range<dim::length>(table, "thickness", Bounds::positive);
        path.material = material(reading, table);
        if (const auto word = table.word("facing", facing_names)) path.facing = facing_names.at(word->value);
        path.emissivity = emissivity(reading, table);
        table.finish();
        reading.design.heat_paths.push_back(std::move(path));
    }
}

} // namespace trivet
