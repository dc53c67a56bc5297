#include "rules/evidence.h"

#include "units/format.h"

#include <fmt/format.h>

#include <cmath>

namespace trivet {
namespace {

BinaryOp opposite(BinaryOp op) {
    switch (op) {
    case BinaryOp::less:
        return BinaryOp::greater_equal;
    case BinaryOp::less_equal:
        return BinaryOp::greater;
    case BinaryOp::greater:
        return BinaryOp::less_equal;
    case BinaryOp::greater_equal:
        return BinaryOp::less;
    default:
        return op;
    }
}

std::string number_text(double si, const ExprType& type) {
    if (std::isinf(si)) return si > 0.0 ? "no limit" : "no lower limit";
    const auto* dimension = std::get_if<Dimension>(&type);
    return to_text(AnyQuantity{si, dimension == nullptr ? dim::number : *dimension});
}

} // namespace

std::string value_text(const ValueRef& value, const ExprType& type) {
    switch (value.kind) {
    case ValueRef::Kind::truth:
        return value.truth ? "yes" : "no";
    case ValueRef::Kind::text:
        return std::string(value.text);
    case ValueRef::Kind::number:
        return number_text(value.si, type);
    case ValueRef::Kind::unknown:
        break;
    }
    const bool only_reasons =
        value.unknown != nullptr && value.unknown->missing.empty() && !value.unknown->reasons.empty();
    return only_reasons ? "not known" : "not stated";
}

std::string comparison_text(const Deciding& deciding) {
    if (!deciding) return {};
    const ExprNode& node = deciding.expression->node(deciding.comparison);
    const BinaryOp op = deciding.negated ? opposite(node.op) : node.op;
    return fmt::format("{} {} {}", number_text(deciding.left, deciding.expression->node(node.operands[0]).type),
                       to_text(op), number_text(deciding.right, deciding.expression->node(node.operands[1]).type));
}

} // namespace trivet
