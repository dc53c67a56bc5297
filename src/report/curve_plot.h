#pragma once

#include "report/curve_style.h"

#include <string>

namespace trivet {

// The picture: temperatures over time, one lettered line per body, setpoints, limits and trip temperatures as level
// marks, under it one strip per heater that shows when it is on. Round numbers on both axes.
std::string curve_plot(const HeatCurve& curve, const CurveStyle& style);

} // namespace trivet
