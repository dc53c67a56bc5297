#pragma once

#include "circuit/circuit.h"
#include "tables/table.h"

#include <limits>
#include <optional>
#include <vector>

namespace trivet {

// What a short circuit can draw through a branch and what stops it. Shorts considered: across every load, heater, coil
// and converter input (the far end, both conductors in the loop) and from every node of the outgoing side straight to
// the source's minus terminal (the near end). Each source acts alone, currents add. A source that limits itself
// delivers no more than its limit; without a stated limit `limit_unstated` is set and the network's own value is given.
// How, and what it leaves out: docs/methods/fuses.md.
struct BranchFault {
    double highest = 0.0; // A
    double lowest =
        std::numeric_limits<double>::infinity(); // A, of the shorts through this branch that `fuse` must stop
    double operating_current = 0.0; // A: I2 of the tightest fuse in series, worst short; infinite: no fuse, or unrated
    std::optional<BranchId> fuse;   // that fuse, at the worst short; empty when a short passes the branch and no fuse
    double let_through = 0.0;       // A²s of that fuse over [lowest, highest]; 0 if it never opens within 5 s
    bool limit_unstated = false;    // some source feeding it states no limit (or no voltage; a battery: no resistance)
    bool unlimited = false;         // a battery or stiff source feeds it
};

struct FaultCurrents {
    std::vector<BranchFault> branch; // [branch]; all zero where no short of any source passes
};
FaultCurrents prospective_faults(const Circuit& circuit, const Design& design, const Handbook& handbook);

} // namespace trivet
