#pragma once

#include "circuit/circuit.h"
#include "tables/table.h"

#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace trivet {

// The fuse that opens at the smallest current, of those a short passes. Infinite: there is none, or its rating is
// unknown.
struct Stop {
    double operates_at = std::numeric_limits<double>::infinity(); // A
    std::optional<BranchId> fuse;
};
Stop tighter(const Stop& a, const Stop& b);

// A branch as a short-circuit current sees it, every switch closed.
struct FaultEdge {
    double lo = 0.0;       // ohm
    double hi = 0.0;       // ohm
    double drop = 0.0;     // V lost at least current; negative for another source in series, which adds its voltage
    bool forward = false;  // current can flow from -> to; neither way: a load, which a short can bridge, or a converter
    bool backward = false; // to -> from
    bool limits = false;   // a resistor large enough to be no part of the power path
    Stop stop;
};

struct FaultNetwork {
    std::vector<FaultEdge> edges;     // [branch]
    std::vector<bool> is_supplied;    // [node]: a source or converter output reaches it without a limiting resistor
    std::vector<std::uint32_t> first; // [node] into `branches_at_nodes`, one more at the end
    std::vector<BranchId> branches_at_nodes;

    std::span<const BranchId> branches_at(NodeId node) const {
        const std::size_t begin = first[node.value];
        return std::span(branches_at_nodes).subspan(begin, first[node.value + 1] - begin);
    }
};
FaultNetwork fault_network(const Circuit& circuit, const Design& design, const Handbook& handbook);

bool can_flow(const FaultEdge& edge, const Branch& branch, NodeId from);
inline NodeId other_end(const Branch& branch, NodeId node) { return branch.from == node ? branch.to : branch.from; }

} // namespace trivet
