#pragma once

#include "expr/parse.h"

#include <optional>

namespace trivet {

// Turns a quoted text of an expression into the quantity it states: of the dimension that is due, or, where any number
// fits (a factor), of the one dimension its unit belongs to; "25 °C" is then a place on the temperature scale, "25 K" a
// difference.
std::optional<ExprProblem> read_literal(ExprNode& node, Dimension due);
std::optional<ExprProblem> read_literal(ExprNode& node);

// Added to or subtracted from a temperature, "25 °C" is a place on the scale but "25 K" a difference.
bool reads_as_scale_temperature(const ExprNode& node);

} // namespace trivet
