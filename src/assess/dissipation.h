#pragma once

#include "assess/analysis.h"
#include "thermal/heat_model.h"

namespace trivet {

// The power that becomes heat in a part while it is on, lowest and highest; for a heater with the law of its
// resistance. Sums over its elements; unknown when a current in its circuit is.
PartHeat part_heat(const Design& design, const Analysis& analysis, PartId part);

// Heat in a converter: input power less output power at the highest output current. Step-down and step-up: P_out
// (1/efficiency - 1) + V_in I_q. Linear: (V_in - V_out) I_out + V_in I_q. NaN where a number is missing or never taken.
Power converter_heat(const ConverterElement& converter, double highest_input, double output_current);

} // namespace trivet
