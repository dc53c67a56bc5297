#include "electrical/fault_tree.h"

#include <queue>
#include <tuple>

namespace trivet {

namespace {

struct Candidate {
    Reached way;
    std::uint64_t order =
        0; // equal resistances keep the order of the design, so that results do not depend on the heap
};

struct Farther {
    bool operator()(const Candidate& a, const Candidate& b) const {
        return std::tie(a.way.is_limited, a.way.lo, a.order) > std::tie(b.way.is_limited, b.way.lo, b.order);
    }
};

} // namespace

Reached extended(const Reached& way, const FaultEdge& edge, BranchId by, NodeId to) {
    Reached next = way;
    next.node = to;
    next.lo += edge.lo;
    next.hi += edge.hi;
    next.drop += edge.drop;
    next.is_limited = way.is_limited || edge.limits;
    next.stop = tighter(way.stop, edge.stop);
    next.by = by;
    return next;
}

FaultTree::FaultTree(const Circuit& circuit, const FaultNetwork& network)
    : circuit_(circuit)
    , network_(network)
    , place_(circuit.node_count, nowhere)
    , wanted_(circuit.node_count, false) {}

const Reached* FaultTree::find(NodeId node) const { return place(node) == nowhere ? nullptr : &reached_[place(node)]; }

void FaultTree::forget() {
    for (const Reached& way : reached_) place_[way.node.value] = nowhere;
    reached_.clear();
}

void FaultTree::grow(const Reached& root, NodeId beyond_not, Side side, std::span<const NodeId> until) {
    forget();
    std::size_t missing = 0;
    for (const NodeId node : until) {
        if (!wanted_[node.value]) ++missing;
        wanted_[node.value] = true;
    }
    std::priority_queue<Candidate, std::vector<Candidate>, Farther> candidates;
    std::uint64_t order = 0;
    candidates.push({root, order++});
    while (!candidates.empty()) {
        const Reached way = candidates.top().way;
        candidates.pop();
        if (place_[way.node.value] != nowhere) continue;
        const auto here = static_cast<std::uint32_t>(reached_.size());
        place_[way.node.value] = here;
        reached_.push_back(way);
        if (wanted_[way.node.value] && --missing == 0) break;
        if (way.node == beyond_not) continue;
        for (const BranchId id : network_.branches_at(way.node)) {
            const Branch& branch = circuit_.branches[id.value];
            const FaultEdge& edge = network_.edges[id.value];
            const NodeId next = other_end(branch, way.node);
            const bool is_way = can_flow(edge, branch, side == Side::outgoing ? way.node : next);
            if (!is_way || place_[next.value] != nowhere) continue;
            if (edge.limits && network_.is_supplied[next.value]) continue;
            Reached longer = extended(way, edge, id, next);
            longer.parent = here;
            candidates.push({longer, order++});
        }
    }
    for (const NodeId node : until) wanted_[node.value] = false;
}

} // namespace trivet
