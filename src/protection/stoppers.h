#pragma once

#include "protection/fault_outcome.h"

namespace trivet {

// Fills in who can still end the current of a heater that is stuck on, in the positions `on` of a circuit with a fault
// (null: a sound one). A switch that stands elsewhere than `commanded` obeys nobody.
void find_stoppers(const Circuit& circuit, const CircuitParts& split, const FaultedCircuit& faulted,
                   const FaultCase* fault, const std::vector<Actuation>& actuations, const Positions& on,
                   const Positions& commanded, StuckOn& stuck);

} // namespace trivet
