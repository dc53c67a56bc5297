#pragma once

#include "circuit/circuit.h"

#include <vector>

namespace trivet {

// Branches through which heater current can be made or broken: everything but resistors, thermistors, coils, loads and
// other heaters, which pass too little or are not meant to. A converter passes power from its input pair to its output.
bool carries_power(const Branch& branch);

// Every branch (fuse, cutoff, contact, transistor, wire, ...) whose opening alone leaves no loop source -> heater ->
// source, over both conductors and all supplies, all other switches closed (both contacts of a change-over too), in
// branch order. Empty when no source feeds the branch in any case. Not only for heaters: loads, coils, converter
// inputs. Heater and source share a biconnected component exactly when a loop through both exists (Hopcroft and Tarjan
// 1973); time grows with the island times the supplies in the heater's component.
std::vector<BranchId> interrupters_of(const Circuit& circuit, BranchId heater);

// Whether a loop source -> heater -> source can pass the other branch at all, all switches closed.
bool shares_loop(const Circuit& circuit, BranchId heater, BranchId other);

// Whether a loop through the branch and any source exists at all, all switches closed, over power-carrying branches and
// the branch itself: false for a load that is not connected to a supply on both ends.
bool is_fed(const Circuit& circuit, BranchId branch);

// The supplies (source branch, or converter branch by its output) that feed a branch directly: without a converter or
// another supply in between, all switches closed. One is the usual case; sources in series give none.
std::vector<BranchId> feeders_of(const Circuit& circuit, BranchId branch);

} // namespace trivet
