#pragma once

#include "units/quantity.h"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace trivet {

// The type of an expression: a truth value, a text of a closed set, or a number with a dimension.
struct TruthType {
    friend bool operator==(const TruthType&, const TruthType&) = default;
};
struct TextType {
    friend bool operator==(const TextType&, const TextType&) = default;
};
using ExprType = std::variant<TruthType, TextType, Dimension>;

// A value nobody stated, or one that cannot be worked out: why, in words for the user.
struct Unknown {
    std::vector<std::string> missing;      // what to state: "rated_voltage of main_fuse (state it in [part.main_fuse])"
    std::vector<std::string> reasons = {}; // whole clauses: "no row for 0.30 mm² in 'conductor-current'"
};

using ExprValue = std::variant<Unknown, bool, std::string, AnyQuantity>;

inline bool is_known(const ExprValue& value) { return !std::holds_alternative<Unknown>(value); }

} // namespace trivet
