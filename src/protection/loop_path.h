#pragma once

#include "protection/circuit_part.h"

#include <vector>

namespace trivet {

// One loop that leaves `from`, passes a source and comes back to `to` without visiting a point twice, as edges in
// order: two node-disjoint ways to a source (unit flow, Ford and Fulkerson 1956). Empty if there is none.
std::vector<std::uint32_t> loop_path(std::uint32_t nodes, const LoopEdges& edges, std::uint32_t from, std::uint32_t to);

} // namespace trivet
