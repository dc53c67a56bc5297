#pragma once

#include "thermal/heat_curve.h"

#include <string>
#include <string_view>

namespace trivet {

// Comment lines, a header row, then time_s, ambient_C, BODY_C of every body, HEATER_on of every heater (0, 1
// or the share of time until the next row): the columns that trivet fit reads. Temperatures to a thousandth of a
// kelvin, times to a tenth of a second.
std::string curve_csv(const HeatCurve& curve, std::string_view title);

} // namespace trivet
