#pragma once

#include "circuit/circuit.h"
#include "tables/table.h"

#include <limits>
#include <optional>
#include <vector>

namespace trivet {

// What a short circuit can draw through a branch and what stops it. Shorts considered: across every load, heater, coil
// and converter input (the far end, both conductors in the loop) and from every node of the outgoing side straight to
// the source's minus terminal (the near end). Each source acts alone, currents add. A source that limits itself delivers
// no more than its limit; without a stated limit `limit_unstated` is set and the network's own value is given.
struct BranchFault {
    double highest = 0.0;                                             // A
    double lowest = std::numeric_limits<double>::infinity();          // A, of shorts that pass this branch
    double operating_current = 0.0;                                   // A: I2 of the tightest fuse in series, worst short; infinite: no fuse
    std::optional<BranchId> fuse;                                     // that fuse, at the worst short
    double let_through = 0.0;                                         // A²s of that fuse over [lowest, highest]; 0 if it never opens within 5 s
    bool limit_unstated = false;                                      // some source feeding it states no limit
    bool unlimited = false;                                           // a battery or stiff source feeds it
};

struct FaultCurrents {
    std::vector<BranchFault> branch; // [branch]
};
FaultCurrents prospective_faults(const Circuit& circuit, const Design& design, const Handbook& handbook);

} // namespace trivet
