#include "catalog/bounds.h"
#include "design/reading.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trivet {
namespace {

const MaterialElement* material_of(const Part& part) {
    for (const Element& element : part.elements) {
        if (const auto* material = std::get_if<MaterialElement>(&element.body)) return material;
    }
    return nullptr;
}

void read_name(Reading& reading, TableReader& table, Body& body) {
    const auto name = table.required_text("name");
    const std::size_t errors_before = reading.errors.size();
    if (!name) {
        reading.heat_paths_complete = false;
        return;
    }
    body.name = name->value;
    const BodyId id{static_cast<std::uint32_t>(reading.design.bodies.size())};
    if (name->value == ambient_name) {
        reading.error(ErrorKind::out_of_range, name->place, "'ambient' is the air of the room and cannot be a body",
                      "choose another name");
    } else if (!reading.body_ids.emplace(name->value, id).second) {
        reading.error(ErrorKind::duplicate_name, name->place, fmt::format("two bodies are called '{}'", name->value),
                      "give one of them another name");
    } else {
        reading.good_name(name->value, name->place);
    }
    if (reading.errors.size() != errors_before) reading.heat_paths_complete = false;
}

// What a part loses goes into one body: in two it would count twice.
void read_heated_by(Reading& reading, TableReader& table, Body& body) {
    const BodyId id{static_cast<std::uint32_t>(reading.design.bodies.size())};
    for (const auto& name : table.texts("heated_by")) {
        const auto part = reading.find_part(name);
        if (!part) continue;
        const auto [first, is_new] = reading.heated_bodies.emplace(*part, id);
        if (is_new) {
            body.heated_by.push_back(*part);
        } else if (first->second == id) {
            reading.error(ErrorKind::duplicate_name, name.place,
                          fmt::format("'{}' stands twice in this list", name.value), "name it once");
        } else {
            reading.error(
                ErrorKind::ambiguous, name.place,
                fmt::format("'{}' already heats the body '{}'", name.value, reading.design.body(first->second).name),
                "name the body that it touches; a heat path leads on to the other one");
        }
    }
}

// Capacity is stated, or mass times specific heat: never both.
void read_capacity(Reading& reading, TableReader& table, Body& body) {
    body.mass = bounded_range<dim::mass>(table, "mass", Bounds::positive);
    body.capacity = bounded_range<dim::heat_capacity>(table, "capacity", Bounds::positive);
    if (body.mass && body.capacity) {
        reading.error(ErrorKind::ambiguous, body.capacity->place,
                      "this body states its heat capacity and also a mass, from which another one follows",
                      "keep the one that you know better");
    } else if (body.mass && !table.has("material")) {
        reading.error(ErrorKind::missing_key, body.mass->place,
                      "a mass alone does not say how much heat this body takes up",
                      "add its material, or state its capacity instead, for example capacity = \"200 J/K\"");
    }
}

void read_states(Reading& reading, TableReader& table, Body& body) {
    constexpr std::array<std::string_view, 2> states{"covered", "empty"};
    for (const auto& state : table.texts("may_be")) {
        if (state.value == states[0]) {
            body.may_be_covered = true;
        } else if (state.value == states[1]) {
            body.may_be_empty = true;
        } else {
            reading.error(ErrorKind::unknown_name, state.place,
                          fmt::format("'{}' is no state that a body may be in", state.value),
                          reading.hint(state.value, states));
        }
    }
}

void read_liquid(Reading& reading, TableReader& table, Body& body) {
    const auto liquid = table.flag("liquid");
    body.liquid = liquid ? liquid->value : body.made_of && body.made_of->liquid;
    body.above = reading.find_parts(table.texts("above"));
    body.above_stated = table.has("above");
    if (body.above.empty() || body.liquid) return;
    reading.error(ErrorKind::missing_key, table.place_of("above").value_or(body.place),
                  fmt::format("'above' names what the liquid of '{}' would reach, but nothing says that it is a liquid",
                              body.name),
                  "add liquid = true, or the material, or take 'above' out");
}

} // namespace

NamedMaterial Reading::find_material(TableReader& table) {
    const auto name = table.text("material");
    if (!name) return {};
    NamedMaterial found{std::string(name->value), std::nullopt, name->place};
    const Loaded<Part>* known = catalog.find(name->value);
    const MaterialElement* material = known != nullptr && known->value ? material_of(*known->value) : nullptr;
    if (material != nullptr) {
        found.made_of = *material;
    } else if (known != nullptr && !known->value) {
        errors.insert(errors.end(), known->errors.begin(), known->errors.end());
    } else {
        const std::string text = known == nullptr ? fmt::format("no material is called '{}'", name->value)
                                                  : fmt::format("'{}' is a part, not a material", name->value);
        error(ErrorKind::unknown_name, name->place, text, hint(name->value, catalog.names_with("material")));
    }
    return found;
}

void read_bodies(Reading& reading, TableReader& root) {
    for (TableReader& table : root.tables("body")) {
        Body body;
        body.place = table.place();
        read_name(reading, table, body);
        read_heated_by(reading, table, body);
        NamedMaterial material = reading.find_material(table);
        body.material = std::move(material.name);
        body.made_of = std::move(material.made_of);
        read_capacity(reading, table, body);
        body.limit = bounded_range<dim::temperature>(table, "limit");
        body.touchable = table.flag("touchable");
        if (const auto word = table.word("touch", touch_class_names)) body.touch = touch_class_names.at(word->value);
        body.touched_for = bounded_range<dim::time>(table, "touched_for", Bounds::positive);
        read_states(reading, table, body);
        read_liquid(reading, table, body);
        table.finish();
        reading.design.bodies.push_back(std::move(body));
    }
}

} // namespace trivet
