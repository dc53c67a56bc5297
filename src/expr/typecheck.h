#pragma once

#include "expr/parse.h"
#include "tables/table.h"

#include <functional>
#include <optional>

namespace trivet {

// What a name means where the expression stands; empty if the name is not known there.
using NameTypes = std::function<std::optional<ExprType>(std::string_view name)>;

// Types and dimensions before any value is seen: `current <= voltage` is an error here. A text literal in quotes that
// reads as a quantity is one where a number is due ("5 V"), a text otherwise. `names_in_reach` feeds "did you mean".
tl::expected<ExprType, ExprProblem> check_types(Expression& expression, const NameTypes& names, const Handbook& handbook,
                                                std::span<const std::string_view> names_in_reach);

std::string to_text(const ExprType& type); // "a voltage", "a truth value"

} // namespace trivet
