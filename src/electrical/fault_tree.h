#pragma once

#include "electrical/fault_network.h"

namespace trivet {

// A node of the tree of shortest resistances, with everything on the way to it from the root.
struct Reached {
    NodeId node;
    double lo = 0.0;         // ohm
    double hi = 0.0;         // ohm
    double drop = 0.0;       // V
    bool is_limited = false; // the way passes a limiting resistor
    Stop stop;
    BranchId by;              // last branch of the way; not for the root
    std::uint32_t parent = 0; // place in `reached`, always smaller than the node's own
};

enum class Side : std::uint8_t { outgoing, returning }; // from a source's plus with the current, from minus against it

// Shortest ways from one terminal of a source (Dijkstra 1959, by the low ends of the resistances), never beyond its
// other terminal. Kept between sources so that each costs only what it reaches.
class FaultTree {
public:
    FaultTree(const Circuit& circuit, const FaultNetwork& network);

    // `until` not empty: stops when these nodes are reached.
    void grow(const Reached& root, NodeId beyond_not, Side side, std::span<const NodeId> until);

    const std::vector<Reached>& reached() const { return reached_; } // nearest first
    const Reached* find(NodeId node) const;
    static constexpr std::uint32_t nowhere = 0xffffffffU;
    std::uint32_t place(NodeId node) const { return place_[node.value]; }

private:
    void forget();

    const Circuit& circuit_;
    const FaultNetwork& network_;
    std::vector<Reached> reached_;
    std::vector<std::uint32_t> place_; // [node]
    std::vector<bool> wanted_;         // [node]
};

// The way one branch further.
Reached extended(const Reached& way, const FaultEdge& edge, BranchId by, NodeId to);

} // namespace trivet
