#pragma once

#include "report/curve_plot.h"

#include <string>
#include <string_view>

namespace trivet {

// The answer of `trivet thermal`: what is followed and at which extreme, what comes of it, the picture, then the
// numbers of every body, control and cutoff, the caution.
std::string curve_text(const HeatCurve& curve, std::string_view title, const CurveStyle& style);

// What comes of it in a sentence or two: what stops the heat, after how long and how hot, or that nothing does.
std::string curve_outcome(const HeatCurve& curve, const CurveStyle& style);

// "45 s", "4 min 20 s", "12 min", "1 h 32 min", "2 d 3 h".
std::string clock_text(Time time);

} // namespace trivet
