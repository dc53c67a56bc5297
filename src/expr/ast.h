#pragma once

#include "expr/value.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// The rule language: names, plain numbers, truth values, texts in double or single quotes (a quantity such as "5 V"
// where a number is due), + - * / and unary -, == != < <= > >=, not/and/or, calls. No loops, no side effects.
enum class ExprKind : std::uint8_t { number, quantity, text, truth, name, unary_minus, logical_not, binary, call };
enum class BinaryOp : std::uint8_t {
    add,
    subtract,
    multiply,
    divide,
    equal,
    not_equal,
    less,
    less_equal,
    greater,
    greater_equal,
    logical_and,
    logical_or
};

// min max abs sqrt if(condition, a, b) lookup('table', key...) stated(name): truth, whether a value is known at all.
enum class Function : std::uint8_t { minimum, maximum, absolute, square_root, choose, look_up, is_stated };

using ExprIndex = std::uint32_t;

struct ExprNode {
    ExprKind kind{};
    BinaryOp op{};
    Function function{};
    std::uint32_t offset = 0; // where to point in the expression's text: a binary operator itself, else the start
    std::uint32_t begin = 0;  // the text of this node is [begin, end) of the expression's text, in bytes
    std::uint32_t end = 0;
    std::uint32_t slot = 0; // names only: what check_types was told the name means
    AnyQuantity quantity{}; // number and quantity
    bool truth = false;
    std::string text{};                // name, text, the quantity as written, or the table of a lookup
    std::vector<ExprIndex> operands{}; // children
    ExprType type{};                   // filled by check_types
};

struct Expression {
    std::string text;
    std::vector<ExprNode> nodes;
    ExprIndex root = 0;

    const ExprNode& node(ExprIndex index) const { return nodes[index]; }
    std::string_view text_of(ExprIndex index) const {
        return std::string_view(text).substr(nodes[index].begin, nodes[index].end - nodes[index].begin);
    }
    const ExprType& type() const { return nodes[root].type; }
};

bool is_comparison(BinaryOp op); // == != < <= > >=

// Fully bracketed form for tests and for `trivet explain`.
std::string to_text(const Expression& expression);
std::string to_text(const Expression& expression, ExprIndex from);

std::string_view to_text(BinaryOp op);       // "<="
std::string_view to_text(Function function); // "lookup"

} // namespace trivet
