#pragma once

#include "circuit/circuit.h"
#include "design/design.h"

#include <map>
#include <vector>

namespace trivet {

// The wires from a source's plus terminal up to the first fuse of each way.
struct UnfusedRun {
    Length longest;              // infinite where a way meets a part that is not a fuse
    bool length_missing = false; // a wire on the way states no length
    std::vector<WireId> wires;

    bool ends_in_fuses() const;
};

// By source branch.
std::map<std::uint32_t, UnfusedRun> unfused_runs(const Circuit& circuit, const Design& design);

} // namespace trivet
