#pragma once

#include "expr/ast.h"
#include "tables/table.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// Looked-up value of a name; called at most once per name and evaluation step.
using NameValues = std::function<ExprValue(std::string_view name)>;

// The deciding comparison of an evaluation: for `load <= limit`, limit over load. Above 1 passes.
struct Margin {
    double ratio = 0.0;
    std::string left;  // text of the compared sides
    std::string right;
    AnyQuantity left_value;
    AnyQuantity right_value;
};

struct Evaluated {
    ExprValue value;
    std::vector<std::string> names_used; // in order of first use; a short-circuited branch adds none
    std::optional<Margin> margin;        // of the thinnest comparison that mattered
};

// `false and unknown` is false, `true or unknown` is true, otherwise unknown carries the reasons of both sides.
// Division by zero and roots of negatives are unknown with that reason, never NaN. An infinite value compares as usual.
Evaluated evaluate(const Expression& expression, const NameValues& names, const Handbook& handbook);

} // namespace trivet
