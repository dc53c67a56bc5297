#pragma once

#include "assess/analysis.h"
#include "protection/fault_cases.h"

#include <optional>

namespace trivet {

// How many times its usual power a heater takes that is on anyway: from a supply or converter that gives more, or with
// less of its own resistance. Power goes with the square of the voltage. Empty: the fault does nothing like that.
std::optional<double> overdrive(const FaultCase& fault, BranchId heater, const Design& design,
                                const Analysis& analysis);

} // namespace trivet
