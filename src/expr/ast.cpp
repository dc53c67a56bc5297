#include "expr/ast.h"

#include <fmt/format.h>

#include <array>

namespace trivet {
namespace {

constexpr std::array<std::string_view, 12> operator_texts{
    "+", "-", "*", "/", "==", "!=", "<", "<=", ">", ">=", "and", "or"};
static_assert(operator_texts.size() == static_cast<std::size_t>(BinaryOp::logical_or) + 1);

constexpr std::array<std::string_view, 7> function_texts{"min", "max", "abs", "sqrt", "if", "lookup", "stated"};
static_assert(function_texts.size() == static_cast<std::size_t>(Function::is_stated) + 1);

std::string call_text(const Expression& expression, const ExprNode& node) {
    std::string text = fmt::format("{}(", to_text(node.function));
    std::string_view separator = "";
    if (node.function == Function::look_up) {
        text += fmt::format("'{}'", node.text);
        separator = ", ";
    }
    for (const ExprIndex operand : node.operands) {
        text += separator;
        text += to_text(expression, operand);
        separator = ", ";
    }
    return text + ')';
}

} // namespace

bool is_comparison(BinaryOp op) { return op >= BinaryOp::equal && op <= BinaryOp::greater_equal; }

std::string_view to_text(BinaryOp op) { return operator_texts[static_cast<std::size_t>(op)]; }

std::string_view to_text(Function function) { return function_texts[static_cast<std::size_t>(function)]; }

std::string to_text(const Expression& expression, ExprIndex from) {
    const ExprNode& node = expression.node(from);
    switch (node.kind) {
    case ExprKind::number:
        return fmt::format("{}", node.quantity.si);
    case ExprKind::quantity:
        return fmt::format("\"{}\"", node.text);
    case ExprKind::text:
        return fmt::format("'{}'", node.text);
    case ExprKind::truth:
        return node.truth ? "true" : "false";
    case ExprKind::name:
        return node.text;
    case ExprKind::unary_minus:
        return fmt::format("(-{})", to_text(expression, node.operands[0]));
    case ExprKind::logical_not:
        return fmt::format("(not {})", to_text(expression, node.operands[0]));
    case ExprKind::binary:
        return fmt::format("({} {} {})", to_text(expression, node.operands[0]), to_text(node.op),
                           to_text(expression, node.operands[1]));
    case ExprKind::call:
        return call_text(expression, node);
    }
    return {};
}

std::string to_text(const Expression& expression) { return to_text(expression, expression.root); }

} // namespace trivet
