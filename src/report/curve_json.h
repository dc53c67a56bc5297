#pragma once

#include "thermal/heat_curve.h"

#include <string>
#include <string_view>

namespace trivet {

// The same as an object: what is followed, the curves, and the figures of every body, control and cutoff. Times in
// seconds, temperatures in degrees Celsius, both in the names of the members.
std::string curve_json(const HeatCurve& curve, std::string_view title);

} // namespace trivet
