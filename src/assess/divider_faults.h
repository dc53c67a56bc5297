#pragma once

#include "assess/analysis.h"
#include "protection/fault_cases.h"

namespace trivet {

// A thermistor is read over a divider: with its fixed resistor shorted the pin reads as if the thermistor were off,
// with the resistor or its only wire off as if the thermistor were shorted (voltage divider rule). Lets the switches do
// in these faults what they do in those of the thermistor.
void follow_dividers(const Design& design, const Analysis& analysis, std::vector<FaultCase>& cases);

} // namespace trivet
