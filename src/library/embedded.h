#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace trivet {

// A file of rules/ or parts/ as it stood when the program was built. `path` is relative to the project's folder.
struct EmbeddedFile {
    std::string_view path; // "rules/wire/conductor-current.toml"
    std::string_view text;
};

// One part of an embedded file, so that a check reads only the parts its design uses.
struct EmbeddedPart {
    std::string_view name;
    std::string_view category; // "supplies"
    std::string_view path;     // "parts/supplies.toml"
    std::string_view text;     // just this part's lines
    std::uint32_t first_line = 0;
};

std::span<const EmbeddedFile> embedded_parts();      // by path
std::span<const EmbeddedPart> embedded_part_index(); // by name, each name once
std::span<const EmbeddedFile> embedded_rules();      // by path
std::span<const EmbeddedFile> embedded_tables();     // by path
EmbeddedFile embedded_policy();                      // rules/policy.toml

} // namespace trivet
