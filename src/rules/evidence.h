#pragma once

#include "expr/evaluate.h"
#include "rules/finding.h"

#include <string>

namespace trivet {

// A value as people read it: "4.17 A", "yes", "no limit"; an unknown reads "not stated" or "not known".
std::string value_text(const ValueRef& value, const ExprType& type);

// "2.40 A <= 2.40 A": the deciding comparison with its numbers, turned round where the rule negates it.
std::string comparison_text(const Deciding& deciding);

} // namespace trivet
