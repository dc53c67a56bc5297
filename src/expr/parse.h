#pragma once

#include "expr/ast.h"

#include <tl/expected.hpp>

#include <cstddef>
#include <string>
#include <string_view>

namespace trivet {

struct ExprProblem {
    std::size_t offset = 0; // bytes into the expression
    std::string message;
    std::string hint;
};

// `text` is valid UTF-8. Depth and length are limited (64 levels, 2 000 bytes). Comparisons do not chain: write
// `a < b and b < c`.
tl::expected<Expression, ExprProblem> parse_expression(std::string_view text);

// Words with a meaning of their own: and or not true false, and the names of functions.
bool is_reserved_word(std::string_view word);

} // namespace trivet
