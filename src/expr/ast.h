#pragma once

#include "expr/value.h"

#include <cstdint>
#include <string>
#include <vector>

namespace trivet {

// The rule language: names, numbers with units in double quotes ("5 V"), plain numbers, truth values, texts in double
// quotes, + - * / and unary -, == != < <= > >=, not/and/or, calls. No loops, no side effects.
enum class ExprKind : std::uint8_t { number, quantity, text, truth, name, unary_minus, logical_not, binary, call };
enum class BinaryOp : std::uint8_t { add, subtract, multiply, divide, equal, not_equal, less, less_equal, greater, greater_equal, logical_and, logical_or };

// min max abs sqrt if(condition, a, b) lookup('table', key...) stated(name): truth, whether a value is known at all.
enum class Function : std::uint8_t { minimum, maximum, absolute, square_root, choose, look_up, is_stated };

using ExprIndex = std::uint32_t;

struct ExprNode {
    ExprKind kind{};
    BinaryOp op{};
    Function function{};
    std::uint32_t offset = 0;        // bytes into the expression's text
    AnyQuantity quantity;            // number and quantity
    bool truth = false;
    std::string text;                // name, text, or the table of a lookup
    std::vector<ExprIndex> operands; // children
};

struct Expression {
    std::string text;
    std::vector<ExprNode> nodes;
    ExprIndex root = 0;
};

// Fully bracketed form for tests and for `trivet explain`.
std::string to_text(const Expression& expression);

} // namespace trivet
