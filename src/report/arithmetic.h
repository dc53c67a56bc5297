#pragma once

#include "rules/finding.h"

#include <cstdint>
#include <string>

namespace trivet {

// `essential`: the values the requirement itself compares. `all`: also what they are worked out from, with formulas.
enum class Depth : std::uint8_t { essential, all };

// The numbers a verdict rests on: the deciding comparison, then one line per value with its circumstance or formula.
std::string arithmetic(const Finding& finding, std::size_t width, Depth depth);

} // namespace trivet
