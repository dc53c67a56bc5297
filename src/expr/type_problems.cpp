#include "expr/checker.h"
#include "units/format.h"

#include <fmt/format.h>

namespace trivet {
namespace detail {

Checked Checker::fail_unlike(ExprIndex at, const ExprType& left, const ExprType& right, std::string_view verb) {
    return fail_unlike(at, left, right, verb, node(at).operands[0], node(at).operands[1]);
}

Checked Checker::fail_unlike(ExprIndex at, const ExprType& left, const ExprType& right, std::string_view verb,
                             ExprIndex a, ExprIndex b) {
    std::string hint;
    const bool bare_left = node(a).kind == ExprKind::number;
    if ((bare_left || node(b).kind == ExprKind::number) && as_number(bare_left ? right : left) != nullptr) {
        hint = fmt::format("write the number with its unit in quotes, for example \"{}\"",
                           dimension_example(*as_number(bare_left ? right : left)));
    }
    return fail(node(at).offset,
                fmt::format("'{}' is {} and '{}' is {}; only like can be {} like", words(a), to_text(left), words(b),
                            to_text(right), verb),
                std::move(hint));
}

Checked Checker::refuse_point(ExprIndex index, std::string_view verb) {
    return fail(node(index).offset,
                fmt::format("'{}' is a temperature; only a temperature difference can be {}", words(index), verb),
                "subtract another temperature first, for example (a - \"25 °C\")");
}

Checked Checker::fail(std::size_t offset, std::string message, std::string hint) {
    return fail(ExprProblem{offset, std::move(message), std::move(hint)});
}

Checked Checker::fail(ExprProblem problem) {
    if (!problem_) problem_ = std::move(problem);
    return {};
}

} // namespace detail

std::string to_text(const ExprType& type) {
    if (std::holds_alternative<TruthType>(type)) return "a truth value";
    if (std::holds_alternative<TextType>(type)) return "a text";
    return std::string(dimension_name(std::get<Dimension>(type)));
}

} // namespace trivet
