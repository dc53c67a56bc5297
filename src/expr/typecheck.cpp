#include "expr/checker.h"
#include "expr/literals.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace trivet {
namespace detail {
namespace {

bool too_high(Dimension d) {
    constexpr int highest_power = 32;
    return std::max({std::abs(d.length), std::abs(d.mass), std::abs(d.time), std::abs(d.current),
                     std::abs(d.temperature)}) > highest_power;
}

} // namespace

tl::expected<ExprType, ExprProblem> Checker::run() {
    const Checked type = check(expression_.root, {});
    if (problem_) return tl::unexpected(*problem_);
    return *type;
}

Checked Checker::check(ExprIndex index, const Due& due) {
    const Checked type = type_of(index, due);
    if (type) node(index).type = *type;
    return type;
}

Checked Checker::type_of(ExprIndex index, const Due& due) {
    const ExprNode& here = node(index);
    switch (here.kind) {
    case ExprKind::number:
        return ExprType{dim::number};
    case ExprKind::quantity:
        return ExprType{here.quantity.dimension};
    case ExprKind::text:
        return due ? literal(index, *due) : Checked{TextType{}};
    case ExprKind::truth:
        return ExprType{TruthType{}};
    case ExprKind::name:
        return name(index);
    case ExprKind::unary_minus:
        return minus(index, due);
    case ExprKind::logical_not:
        return truth_operand(here.operands[0]);
    case ExprKind::binary:
        return binary(index);
    case ExprKind::call:
        return call(index, due);
    }
    return {};
}

Checked Checker::literal(ExprIndex index, Dimension due) {
    if (auto problem = read_literal(node(index), due)) return fail(std::move(*problem));
    return node(index).type;
}

Checked Checker::name(ExprIndex index) {
    ExprNode& here = node(index);
    const auto named = names_(here.text);
    if (!named) {
        return fail(here.offset, fmt::format("'{}' is not a name known here", shown(here.text)),
                    did_you_mean(here.text, names_in_reach_));
    }
    here.slot = named->slot;
    return named->type;
}

Checked Checker::minus(ExprIndex index, const Due& due) {
    const ExprIndex operand = node(index).operands[0];
    const Checked type = number(operand, due);
    if (type && is_point(*type)) return refuse_point(operand, "negated");
    return type;
}

Checked Checker::binary(ExprIndex index) {
    switch (node(index).op) {
    case BinaryOp::logical_and:
    case BinaryOp::logical_or: {
        const Checked left = truth_operand(node(index).operands[0]);
        const Checked right = truth_operand(node(index).operands[1]);
        return left && right ? left : Checked{};
    }
    case BinaryOp::add:
    case BinaryOp::subtract:
        return sum(index);
    case BinaryOp::multiply:
    case BinaryOp::divide:
        return product(index);
    default:
        return comparison(index);
    }
}

Checked Checker::truth_operand(ExprIndex index) {
    const Checked type = check(index, {});
    if (!type || std::holds_alternative<TruthType>(*type)) return type;
    return fail(node(index).offset,
                fmt::format("'{}' is {}, but a truth value is due here", words(index), to_text(*type)),
                "write a comparison, for example 'a <= b'");
}

Checked Checker::number(ExprIndex index, const Due& due) {
    if (node(index).kind == ExprKind::text && !due) {
        if (auto problem = read_literal(node(index))) return fail(std::move(*problem));
        return node(index).type;
    }
    const Checked type = check(index, due);
    if (!type || as_number(*type) != nullptr) return type;
    return fail(node(index).offset, fmt::format("'{}' is {}, but a number is due here", words(index), to_text(*type)),
                "");
}

bool Checker::both(ExprIndex index, const Due& due, Checked& left, Checked& right) {
    const ExprIndex a = node(index).operands[0];
    const ExprIndex b = node(index).operands[1];
    if (flexible(a) && !flexible(b)) {
        right = check(b, due);
        if (right) left = check(a, due_from(*right));
    } else {
        left = check(a, due);
        if (left) right = check(b, due_from(*left));
    }
    return left && right;
}

bool Checker::flexible(ExprIndex index) const {
    const ExprNode& here = expression_.node(index);
    if (here.kind == ExprKind::text) return true;
    if (here.kind == ExprKind::unary_minus) return flexible(here.operands[0]);
    if (here.kind != ExprKind::call || here.function == Function::look_up) return false;
    if (here.function == Function::is_stated || here.function == Function::square_root) return false;
    const std::size_t first = here.function == Function::choose ? 1 : 0;
    return std::all_of(here.operands.begin() + static_cast<std::ptrdiff_t>(first), here.operands.end(),
                       [&](ExprIndex operand) { return flexible(operand); });
}

Checked Checker::comparison(ExprIndex index) {
    const BinaryOp op = node(index).op;
    const bool ordering = op != BinaryOp::equal && op != BinaryOp::not_equal;
    Checked left;
    Checked right;
    if (ordering && flexible(node(index).operands[0]) && flexible(node(index).operands[1])) {
        left = number(node(index).operands[0], {});
        if (left) right = number(node(index).operands[1], due_from(*left));
        if (!left || !right) return {};
    } else if (!both(index, {}, left, right)) {
        return {};
    }
    if (*left != *right) return fail_unlike(index, *left, *right, "compared with");
    if (ordering && as_number(*left) == nullptr) {
        return fail(
            node(index).offset,
            fmt::format("'{}' is {}; only numbers have an order", words(node(index).operands[0]), to_text(*left)),
            "use == or !=");
    }
    return ExprType{TruthType{}};
}

Checked Checker::sum(ExprIndex index) {
    const ExprIndex a = node(index).operands[0];
    const ExprIndex b = node(index).operands[1];
    Checked left;
    Checked right;
    if (node(a).kind == ExprKind::text && node(b).kind != ExprKind::text) {
        right = number(b, {});
        if (right) left = number(a, due_beside(a, *right, node(index).op, true));
    } else {
        left = number(a, {});
        if (left) right = number(b, due_beside(b, *left, node(index).op, false));
    }
    if (!left || !right) return {};
    return sum_type(index, *left, *right);
}

Due Checker::due_beside(ExprIndex index, const ExprType& other, BinaryOp op, bool literal_is_left) const {
    const ExprNode& here = expression_.node(index);
    if (here.kind != ExprKind::text) return due_from(other);
    if (*as_number(other) * dim::number != dim::temperature_difference) return due_from(other);
    const bool scale = reads_as_scale_temperature(here);
    if (op == BinaryOp::add) return scale && !is_point(other) ? dim::temperature : dim::temperature_difference;
    if (literal_is_left) return scale || is_point(other) ? dim::temperature : dim::temperature_difference;
    return scale && is_point(other) ? dim::temperature : dim::temperature_difference;
}

Checked Checker::sum_type(ExprIndex index, const ExprType& left, const ExprType& right) {
    const bool adding = node(index).op == BinaryOp::add;
    const Dimension a = *as_number(left);
    const Dimension b = *as_number(right);
    if (a * dim::number != b * dim::number) {
        return fail_unlike(index, left, right, adding ? "added to" : "subtracted from");
    }
    if (adding && a.point && b.point) {
        return fail(node(index).offset, "two temperatures cannot be added; only a difference can be added to one",
                    "write the difference in K, for example \"5 K\"");
    }
    if (!adding && !a.point && b.point) {
        return fail(node(index).offset, "a temperature cannot be subtracted from a temperature difference", "");
    }
    if (!adding && a.point && b.point) return ExprType{a * dim::number};
    return a.point ? left : right;
}

Checked Checker::product(ExprIndex index) {
    const ExprIndex a = node(index).operands[0];
    const ExprIndex b = node(index).operands[1];
    const Checked left = number(a, {});
    const Checked right = left ? number(b, {}) : Checked{};
    if (!left || !right) return {};
    const char* what = node(index).op == BinaryOp::multiply ? "multiplied" : "divided";
    if (is_point(*left)) return refuse_point(a, what);
    if (is_point(*right)) return refuse_point(b, what);
    const Dimension x = *as_number(*left);
    const Dimension y = *as_number(*right);
    if (too_high(x) || too_high(y)) return fail(node(index).offset, "the result has no physical meaning", "");
    return ExprType{node(index).op == BinaryOp::multiply ? x * y : x / y};
}

} // namespace detail

tl::expected<ExprType, ExprProblem> check_types(Expression& expression, const NameTypes& names,
                                                const Handbook& handbook,
                                                std::span<const std::string_view> names_in_reach) {
    return detail::Checker(expression, names, handbook, names_in_reach).run();
}

} // namespace trivet
