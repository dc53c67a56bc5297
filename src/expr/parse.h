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

// Depth and length are limited (64 levels, 2 000 characters).
tl::expected<Expression, ExprProblem> parse_expression(std::string_view text);

} // namespace trivet
