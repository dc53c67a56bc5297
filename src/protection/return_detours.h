#pragma once

#include "circuit/circuit.h"

#include <vector>

namespace trivet {

// A branch that carries more once a return wire is off.
struct Detour {
    BranchId branch;
    double before = 0.0; // A, magnitudes, everything on, at the heaviest corner
    double after = 0.0;
};

// One wire of the return side whose current finds another way when it is off: through the ground of a signal, of a
// board or of a second supply.
struct ReturnDetour {
    WireId opened;
    double carried = 0.0;          // A
    std::vector<BranchId> heaters; // whose current passed it and that still get some
    std::vector<Detour> detours; // in branch order: at least a twentieth of the largest heater current more than before
};

// Every return wire in turn. A wire without which nothing flows any more is not in it. Time: the return wires that have
// a way around them times the island.
std::vector<ReturnDetour> return_detours(const Circuit& circuit);

} // namespace trivet
