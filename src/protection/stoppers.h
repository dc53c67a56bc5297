#pragma once

#include "protection/fault_outcome.h"

namespace trivet {

// A circuit with a fault (null: a sound one) whose switches stand as in `on`. A switch that stands elsewhere than
// `commanded` obeys nobody.
struct Standing {
    const Circuit& circuit;
    const CircuitParts& split;
    const FaultedCircuit& faulted;
    const FaultCase* fault = nullptr;
    const std::vector<Actuation>& actuations;
    const Positions& on;
    const Positions& commanded;
};

// Fills in who can still end the current of a heater that is stuck on.
void find_stoppers(const Standing& standing, StuckOn& stuck);

} // namespace trivet
