#pragma once

#include "circuit/circuit.h"

#include <vector>

namespace trivet {

// Branches through which heater current can be made or broken: everything but resistors, thermistors, coils, loads and
// other heaters, which pass too little or are not meant to.
bool carries_power(const Branch& branch);

// Every branch (fuse, cutoff, contact, transistor, wire, ...) whose opening alone leaves no loop source -> heater ->
// source, over both conductors and all supplies, all other switches closed. Biconnected components of the graph
// (Hopcroft and Tarjan 1973, Boost.Graph): heater and source share one exactly when a loop through both exists.
std::vector<BranchId> interrupters_of(const Circuit& circuit, BranchId heater);

// Whether a loop source -> heater -> source can pass the other branch at all, all switches closed.
bool shares_loop(const Circuit& circuit, BranchId heater, BranchId other);

// Whether a loop through the branch and any source exists at all, all switches closed, over power-carrying branches and
// the branch itself: false for a load that is not connected to a supply on both ends.
bool is_fed(const Circuit& circuit, BranchId branch);

// The supply (source branch, or converter branch by its output) that feeds a branch without a converter in between;
// empty when there is none or more than one.
std::vector<BranchId> feeders_of(const Circuit& circuit, BranchId branch);

// Wire length and fuses between a source's plus terminal and a fuse: the shortest way that passes no other fuse.
std::optional<Length> unprotected_length(const Circuit& circuit, const Design& design, BranchId source, BranchId fuse);

} // namespace trivet
