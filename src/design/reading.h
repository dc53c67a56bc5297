#pragma once

#include "design/read_design.h"
#include "source/toml_reader.h"

#include <map>
#include <span>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

namespace trivet {

// The place of a character inside a text that stands on one line; escapes in it shift the column.
Place place_within(Place text_place, std::string_view text, std::size_t offset);

inline constexpr std::string_view ambient_name = "ambient"; // the air of the room, as an end of a heat path

// A part's place in the build, looked up when all parts and bodies are known.
struct Sitting {
    PartId part;
    std::optional<Stated<std::string_view>> mounted_on;
    std::optional<Stated<std::string_view>> beside;
    std::optional<Stated<std::string_view>> sees;
    std::optional<Stated<std::string_view>> bonded_to; // "supply.-"
};

// A material looked up by name.
struct NamedMaterial {
    std::string name;
    std::optional<MaterialElement> made_of;
    std::optional<Place> place; // of the key, if stated
};

// What the readers of a design's sections share. Names are views into the document.
class Reading {
public:
    Reading(const Catalog& known_parts, const DesignLimits& most)
        : catalog(known_parts)
        , limits(most) {}

    const Catalog& catalog;
    const DesignLimits& limits;
    Design design;
    Errors errors;
    std::unordered_map<std::string_view, PartId> part_ids;
    std::unordered_map<std::string_view, BodyId> body_ids;
    std::map<PartId, BodyId> heated_bodies; // part -> the body that lists it in heated_by
    std::vector<Sitting> sittings;
    bool heat_paths_complete = true; // false: an end of one, or a body, has no name of its own

    void error(ErrorKind kind, Place place, std::string message, std::string hint = {});

    // Files out_of_range or too_large when the name of a part, wire, body or control is not a plain, short one.
    bool good_name(std::string_view name, Place place);

    std::optional<PartId> find_part(const Stated<std::string_view>& name);
    std::optional<TerminalRef> find_terminal(const Stated<std::string_view>& reference); // "supply.+"
    std::vector<PartId> find_parts(const std::vector<Stated<std::string_view>>& names);

    // The body called so, or else the one that the part called so heats or is mounted on. A design without any body
    // says nothing about heat: then a known part is accepted and there is no body.
    std::optional<BodyId> find_body_at(const Stated<std::string_view>& name);
    std::optional<BodyId> body_of(PartId part) const; // that it heats, or else is mounted on

    // The material that the table names. Files unknown_name when there is none of that name.
    NamedMaterial find_material(TableReader& table);

    // "did you mean" as long as there is work left for it: hints for a thousand misspelt names help nobody.
    std::string hint(std::string_view name, std::span<const std::string_view> candidates);
    std::string part_hint(std::string_view name);
    std::string part_or_body_hint(std::string_view name);
    std::string library_hint(std::string_view name, std::string_view prefix = {});

private:
    std::size_t comparisons_left_ = 200'000;
};

void read_parts(Reading& reading, TableReader& root);
void place_parts(Reading& reading); // after read_bodies
void read_wires(Reading& reading, TableReader& root);
void read_controls(Reading& reading, TableReader& root);
void read_bodies(Reading& reading, TableReader& root);
void read_heat_paths(Reading& reading, TableReader& root);

// When all was read: every body has a way for its heat to the room, and no setting contradicts another.
void check_ways_to_room(Reading& reading);
void check_settings(Reading& reading);

} // namespace trivet
