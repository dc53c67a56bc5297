#pragma once

#include "rules/finding.h"

#include <string>

namespace trivet {

// The numbers a verdict rests on: the deciding comparison, then one line per value with its circumstance or formula.
std::string arithmetic(const Finding& finding, std::size_t width);

} // namespace trivet
