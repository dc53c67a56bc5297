#pragma once

#include "source/toml_scan.h"

#include <optional>
#include <string_view>
#include <vector>

namespace trivet {

struct KeyPart {
    std::string_view name; // without quotes, escapes left as written
    std::size_t at = 0;    // offset of its first character or quote
};

// The dotted key of a statement: of a header what stands in brackets, otherwise what stands before the '='.
std::vector<KeyPart> key_path(std::string_view text, const Statement& statement);

// Where the name that `second` defines again was defined first: the offset of that key, or nothing.
std::optional<std::size_t> first_definition(std::string_view text, const DocumentLimits& limits,
                                            const Statement& second);

} // namespace trivet
