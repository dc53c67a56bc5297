#pragma once

#include "expr/parse.h"
#include "tables/table.h"

#include <functional>
#include <optional>
#include <span>

namespace trivet {

// What a name means where an expression stands. `slot` is stored in the name's node and asked for when evaluating.
struct NamedType {
    ExprType type;
    std::uint32_t slot = 0;
};
using NameTypes = std::function<std::optional<NamedType>(std::string_view name)>; // empty: the name is not known here

// Types and dimensions before any value is seen: `current <= voltage` is an error here. Fills type, slot and the
// quantities written as texts: a text that stands where a number is due ("5 V") must be a quantity. Temperatures on the
// scale may be compared, subtracted and shifted by a difference only. `names_in_reach` feeds "did you mean".
tl::expected<ExprType, ExprProblem> check_types(Expression& expression, const NameTypes& names,
                                                const Handbook& handbook,
                                                std::span<const std::string_view> names_in_reach);

std::string to_text(const ExprType& type); // "a voltage", "a truth value"

} // namespace trivet
