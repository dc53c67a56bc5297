#include "expr/evaluate.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {
namespace {

using Kind = ValueRef::Kind;

Outcome known_truth(bool truth) { return {{.kind = Kind::truth, .truth = truth, .text = {}}, {}}; }
Outcome known_number(double si) { return {{.kind = Kind::number, .si = si, .text = {}}, {}}; }

void add_new(std::vector<std::string>& to, const std::vector<std::string>& from) {
    for (const std::string& text : from) {
        if (std::ranges::find(to, text) == to.end()) to.push_back(text);
    }
}

// Of two comparisons with the same answer, the one with less (or more) to spare; one without a margin says nothing.
const Outcome& thinner(const Outcome& a, const Outcome& b) {
    if (!a.deciding) return b;
    return b.deciding && b.deciding.ratio < a.deciding.ratio ? b : a;
}
const Outcome& thicker(const Outcome& a, const Outcome& b) {
    if (!a.deciding) return b;
    return b.deciding && b.deciding.ratio > a.deciding.ratio ? b : a;
}

// Numbers that differ by rounding only: 0.8 x 2 A is 1.6 A.
bool same(double a, double b) {
    constexpr double rounding = 1e-9;
    return a == b ||
           (std::isfinite(a) && std::isfinite(b) && std::abs(a - b) <= rounding * std::max(std::abs(a), std::abs(b)));
}

class Evaluator {
public:
    Evaluator(const Expression& expression, const SlotValues& slots, LookupCache& tables, Trace* trace)
        : expression_(expression)
        , slots_(slots)
        , tables_(tables)
        , trace_(trace) {}

    Outcome value(ExprIndex index) {
        const ExprNode& node = expression_.node(index);
        switch (node.kind) {
        case ExprKind::number:
        case ExprKind::quantity:
            return known_number(node.quantity.si);
        case ExprKind::text:
            return {{.kind = Kind::text, .text = node.text}, {}};
        case ExprKind::truth:
            return known_truth(node.truth);
        case ExprKind::name:
            return name(node);
        case ExprKind::unary_minus:
            return minus(value(node.operands[0]));
        case ExprKind::logical_not:
            return negation(value(node.operands[0]));
        case ExprKind::binary:
            return binary(index, node);
        case ExprKind::call:
            return call(index, node);
        }
        return {};
    }

private:
    Outcome name(const ExprNode& node) {
        if (trace_ != nullptr && std::ranges::find(trace_->slots, node.slot) == trace_->slots.end()) {
            trace_->slots.push_back(node.slot);
        }
        const Outcome outcome = slots_(node.slot);
        if (outcome.value.kind == Kind::number && std::isnan(outcome.value.si)) {
            return undefined(node.text, "could not be computed");
        }
        return outcome;
    }

    static Outcome minus(Outcome operand) {
        if (operand.value.is_known()) return known_number(-operand.value.si);
        return operand;
    }

    static Outcome negation(Outcome operand) {
        operand.value.truth = !operand.value.truth;
        if (operand.deciding) {
            operand.deciding.ratio = 1.0 / operand.deciding.ratio;
            operand.deciding.negated = !operand.deciding.negated;
        }
        return operand;
    }

    Outcome binary(ExprIndex index, const ExprNode& node) {
        if (node.op == BinaryOp::logical_and || node.op == BinaryOp::logical_or) return logic(node);
        const Outcome left = value(node.operands[0]);
        const Outcome right = value(node.operands[1]);
        if (!left.value.is_known() || !right.value.is_known()) return unknown_of(left, right);
        if (is_comparison(node.op)) return comparison(index, node, left.value, right.value);
        return arithmetic(index, node.op, left.value.si, right.value.si);
    }

    // Both sides are looked at even when the first decides, because the second may have the margin that matters.
    Outcome logic(const ExprNode& node) {
        const bool decider = node.op == BinaryOp::logical_or; // the value of a side that settles the whole
        const Outcome left = value(node.operands[0]);
        const std::size_t slots_before = trace_ == nullptr ? 0 : trace_->slots.size();
        const Outcome right = value(node.operands[1]);
        const bool left_decides = left.value.kind == Kind::truth && left.value.truth == decider;
        const bool right_decides = right.value.kind == Kind::truth && right.value.truth == decider;
        if (left_decides && !right_decides) {
            if (trace_ != nullptr) trace_->slots.resize(slots_before);
            return left;
        }
        if (right_decides && !left_decides) return right;
        if (!left.value.is_known() || !right.value.is_known()) return unknown_of(left, right);
        return decider ? thicker(left, right) : thinner(left, right);
    }

    Outcome comparison(ExprIndex index, const ExprNode& node, const ValueRef& left, const ValueRef& right) const {
        const bool wanted = node.op == BinaryOp::equal;
        if (left.kind == Kind::text) return known_truth((left.text == right.text) == wanted);
        if (left.kind == Kind::truth) return known_truth((left.truth == right.truth) == wanted);
        const double a = left.si;
        const double b = right.si;
        switch (node.op) {
        case BinaryOp::less:
            return decided(index, a < b && !same(a, b), a, b, margin(index, a, b));
        case BinaryOp::less_equal:
            return decided(index, a <= b || same(a, b), a, b, margin(index, a, b));
        case BinaryOp::greater:
            return decided(index, a > b && !same(a, b), a, b, margin(index, b, a));
        case BinaryOp::greater_equal:
            return decided(index, a >= b || same(a, b), a, b, margin(index, b, a));
        default:
            return known_truth(same(a, b) == wanted);
        }
    }

    double margin(ExprIndex index, double load, double rating) const {
        const ExprType& type = expression_.node(expression_.node(index).operands[0]).type;
        const auto* dimension = std::get_if<Dimension>(&type);
        if (load != 0.0 && same(load, rating)) return 1.0;
        return margin_ratio(load, rating, dimension != nullptr && dimension->point);
    }

    Outcome decided(ExprIndex index, bool truth, double left, double right, double ratio) const {
        Outcome outcome = known_truth(truth);
        outcome.deciding = {&expression_, index, ratio, false, left, right};
        return outcome;
    }

    Outcome arithmetic(ExprIndex index, BinaryOp op, double a, double b) {
        double result = 0.0;
        switch (op) {
        case BinaryOp::add:
            result = a + b;
            break;
        case BinaryOp::subtract:
            result = a - b;
            break;
        case BinaryOp::multiply:
            result = a * b;
            break;
        default:
            if (b == 0.0) return undefined(expression_.text_of(index), "divides by zero");
            result = a / b;
        }
        if (std::isnan(result))
            return undefined(expression_.text_of(index), "has no value where something is without limit");
        if (std::isinf(result) && std::isfinite(a) && std::isfinite(b)) {
            return undefined(expression_.text_of(index), "is too large to compute");
        }
        return known_number(result);
    }

    Outcome call(ExprIndex index, const ExprNode& node) {
        switch (node.function) {
        case Function::minimum:
        case Function::maximum:
            return extreme(node);
        case Function::absolute: {
            Outcome operand = value(node.operands[0]);
            operand.value.si = std::abs(operand.value.si);
            return operand;
        }
        case Function::square_root: {
            const Outcome operand = value(node.operands[0]);
            if (!operand.value.is_known()) return operand;
            if (operand.value.si < 0.0)
                return undefined(expression_.text_of(index), "is the root of a negative number");
            return known_number(std::sqrt(operand.value.si));
        }
        case Function::choose: {
            const Outcome condition = value(node.operands[0]);
            if (!condition.value.is_known()) return unknown_of(condition, known_truth(true));
            return value(node.operands[condition.value.truth ? 1 : 2]);
        }
        case Function::look_up:
            return look_up(node);
        case Function::is_stated:
            return known_truth(value(node.operands[0]).value.is_known());
        }
        return {};
    }

    Outcome extreme(const ExprNode& node) {
        Outcome result = value(node.operands[0]);
        for (std::size_t i = 1; i < node.operands.size(); ++i) {
            const Outcome other = value(node.operands[i]);
            if (!result.value.is_known() || !other.value.is_known()) {
                result = unknown_of(result, other);
            } else if (node.function == Function::minimum ? other.value.si < result.value.si
                                                          : other.value.si > result.value.si) {
                result = other;
            }
        }
        return result;
    }

    Outcome look_up(const ExprNode& node) {
        constexpr std::size_t most_keys = 16;
        std::array<ValueRef, most_keys> keys;
        Outcome missing = known_truth(true);
        for (std::size_t i = 0; i < node.operands.size(); ++i) {
            const Outcome key = value(node.operands[i]);
            if (!key.value.is_known()) missing = unknown_of(missing, key);
            keys[i] = key.value;
        }
        if (!missing.value.is_known()) return missing;
        const auto& found = tables_.look_up(expression_, node, {keys.data(), node.operands.size()});
        return found ? known_number(*found) : unknown(found.error());
    }

    Outcome unknown_of(const Outcome& left, const Outcome& right) {
        const Unknown* a = left.value.is_known() ? nullptr : left.value.unknown;
        const Unknown* b = right.value.is_known() ? nullptr : right.value.unknown;
        Outcome result;
        result.value.unknown = a != nullptr ? a : b;
        if (trace_ == nullptr || a == nullptr || b == nullptr || a == b) return result;
        Unknown merged = *a;
        add_new(merged.missing, b->missing);
        add_new(merged.reasons, b->reasons);
        return unknown(merged);
    }

    Outcome undefined(std::string_view what, std::string_view clause) {
        if (trace_ == nullptr) return {};
        return unknown(Unknown{{}, {fmt::format("'{}' {}", what, clause)}});
    }

    Outcome unknown(const Unknown& why) {
        Outcome result;
        if (trace_ != nullptr) result.value.unknown = &trace_->unknowns.emplace_back(why);
        return result;
    }

    const Expression& expression_;
    const SlotValues& slots_;
    LookupCache& tables_;
    Trace* trace_;
};

} // namespace

Outcome evaluate(const Expression& expression, const SlotValues& slots, LookupCache& tables, Trace* trace) {
    return Evaluator(expression, slots, tables, trace).value(expression.root);
}

} // namespace trivet
