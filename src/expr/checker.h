#pragma once

#include "expr/typecheck.h"
#include "source/utf8.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace trivet::detail {

using Due = std::optional<Dimension>;    // what a text literal is to be read as
using Checked = std::optional<ExprType>; // empty: the problem is filed

inline const Dimension* as_number(const ExprType& type) { return std::get_if<Dimension>(&type); }
inline bool is_point(const ExprType& type) { return as_number(type) != nullptr && as_number(type)->point; }
inline Due due_from(const ExprType& type) { return as_number(type) == nullptr ? Due{} : Due{*as_number(type)}; }

// The type checker at work on one expression. It stops at the first problem.
class Checker {
public:
    Checker(Expression& expression, const NameTypes& names, const Handbook& handbook,
            std::span<const std::string_view> names_in_reach)
        : expression_(expression)
        , names_(names)
        , handbook_(handbook)
        , names_in_reach_(names_in_reach) {}

    tl::expected<ExprType, ExprProblem> run();

private:
    Checked check(ExprIndex index, const Due& due);
    Checked type_of(ExprIndex index, const Due& due);
    Checked literal(ExprIndex index, Dimension due);
    Checked name(ExprIndex index);
    Checked minus(ExprIndex index, const Due& due);
    Checked binary(ExprIndex index);
    Checked truth_operand(ExprIndex index);
    // A number of any dimension; a text literal is read by its own unit when nothing says what is due.
    Checked number(ExprIndex index, const Due& due);
    // Both sides, the one that knows its own dimension first, so that a literal on the other side can follow it.
    bool both(ExprIndex index, const Due& due, Checked& left, Checked& right);
    bool flexible(ExprIndex index) const;
    Checked comparison(ExprIndex index);
    Checked sum(ExprIndex index);
    // What a literal beside a number of type `other` is due to be. Only temperatures leave a choice.
    Due due_beside(ExprIndex index, const ExprType& other, BinaryOp op, bool literal_is_left) const;
    Checked sum_type(ExprIndex index, const ExprType& left, const ExprType& right);
    Checked product(ExprIndex index);
    Checked call(ExprIndex index, const Due& due);
    Checked extreme(ExprIndex index, const Due& due);
    Checked root(ExprIndex operand);
    Checked choose(ExprIndex index, const Due& due);
    Checked look_up(ExprIndex index);
    bool key(ExprIndex index, const Column& column, const PublishedTable& table);
    Checked fail_unlike(ExprIndex at, const ExprType& left, const ExprType& right, std::string_view verb);
    Checked fail_unlike(ExprIndex at, const ExprType& left, const ExprType& right, std::string_view verb, ExprIndex a,
                        ExprIndex b);
    Checked refuse_point(ExprIndex index, std::string_view verb);
    Checked fail(std::size_t offset, std::string message, std::string hint);
    Checked fail(ExprProblem problem);

    std::string words(ExprIndex index) const { return shown(expression_.text_of(index)); }
    ExprNode& node(ExprIndex index) { return expression_.nodes[index]; }

    Expression& expression_;
    const NameTypes& names_;
    const Handbook& handbook_;
    std::span<const std::string_view> names_in_reach_;
    std::optional<ExprProblem> problem_;
};

} // namespace trivet::detail
