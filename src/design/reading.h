#pragma once

#include "design/read_design.h"
#include "source/toml_reader.h"

#include <span>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

namespace trivet {

// The place of a character inside a text that stands on one line; escapes in it shift the column.
Place place_within(Place text_place, std::string_view text, std::size_t offset);

// A part's place in the build, looked up when all parts and bodies are known.
struct Mounting {
    PartId part;
    Stated<std::string_view> on;
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
    std::unordered_set<std::string_view> body_names;
    std::vector<Mounting> mountings;

    void error(ErrorKind kind, Place place, std::string message, std::string hint = {});

    // Files out_of_range or too_large when the name of a part, wire, body or control is not a plain, short one.
    bool good_name(std::string_view name, Place place);

    std::optional<PartId> find_part(const Stated<std::string_view>& name);
    std::vector<PartId> find_parts(const std::vector<Stated<std::string_view>>& names);

    // "did you mean" as long as there is work left for it: hints for a thousand misspelt names help nobody.
    std::string hint(std::string_view name, std::span<const std::string_view> candidates);
    std::string part_hint(std::string_view name);
    std::string library_hint(std::string_view name, std::string_view prefix = {});

private:
    std::size_t comparisons_left_ = 200'000;
};

void read_parts(Reading& reading, TableReader& root);
void mount_parts(Reading& reading); // after read_bodies
void read_wires(Reading& reading, TableReader& root);
void read_controls(Reading& reading, TableReader& root);
void read_bodies(Reading& reading, TableReader& root);
void read_heat_paths(Reading& reading, TableReader& root);

} // namespace trivet
