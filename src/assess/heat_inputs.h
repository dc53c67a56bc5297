#pragma once

#include "assess/analysis.h"
#include "rules/policy.h"
#include "thermal/heat_model.h"

namespace trivet {

// What the electrical analyses tell the thermal one: power of every part that warms a body, what controls and cuts it
// off, and the assumptions of [policy].
HeatInputs heat_inputs(const Design& design, const Analysis& analysis, const Policy& policy);

} // namespace trivet
