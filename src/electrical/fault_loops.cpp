#include "electrical/fault_loops.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr double least_loop = 1e-3; // ohm: terminals and the arc itself, when a design states no resistance at all

Loops across(const Reached& way) {
    const Rank rank = way.is_limited ? Rank::limited : Rank::plain;
    return {way.lo, way.hi, way.drop, way.stop, way.stop, rank};
}

Loops across(const Reached& out, const Reached& back) {
    const Rank rank = out.is_limited || back.is_limited ? Rank::limited : Rank::plain;
    return {out.lo + back.lo, out.hi + back.hi, out.drop + back.drop, tighter(out.stop, back.stop), out.stop, rank};
}

bool is_load(const FaultEdge& edge) { return !edge.forward && !edge.backward; }

} // namespace

double highest_current(const Feed& feed, const Loops& loops) {
    return feed.voltage.hi / std::max(loops.least, least_loop);
}

double lowest_current(const Feed& feed, const Loops& loops) {
    return std::max(0.0, feed.voltage.lo - loops.drop) / std::max(loops.most, least_loop);
}

bool is_worse(const Stop& a, const Stop& b) {
    if (a.operates_at != b.operates_at) return a.operates_at > b.operates_at;
    return !a.fuse && b.fuse;
}

LoopFinder::LoopFinder(const Circuit& circuit, const FaultNetwork& network)
    : circuit_(circuit)
    , network_(network)
    , from_plus_(circuit, network)
    , to_minus_(circuit, network)
    , at_(circuit.branches.size()) {}

void LoopFinder::find(const Feed& feed) {
    for (const BranchId branch : passed_) at_[branch.value] = {};
    passed_.clear();
    feed_ = feed;
    Reached root;
    root.node = feed.plus;
    root.lo = feed.internal.lo;
    root.hi = feed.internal.hi;
    from_plus_.grow(root, feed.minus, Side::outgoing, {});
    short_at_nodes();
    short_across_loads();
    add_up_outgoing();
    add_up_returning();
}

void LoopFinder::short_at_nodes() {
    at_plus_.clear();
    for (const Reached& way : from_plus_.reached()) at_plus_.push_back(across(way));
}

void LoopFinder::short_across_loads() {
    std::vector<NodeId> far_ends;
    for (const Reached& way : from_plus_.reached())
        for (const BranchId id : network_.branches_at(way.node))
            if (is_load(network_.edges[id.value])) far_ends.push_back(other_end(circuit_.branches[id.value], way.node));
    at_minus_.clear();
    if (far_ends.empty()) return;
    Reached root;
    root.node = feed_.minus;
    to_minus_.grow(root, feed_.plus, Side::returning, far_ends);
    at_minus_.resize(to_minus_.reached().size());
    for (const Reached& out : from_plus_.reached()) {
        for (const BranchId id : network_.branches_at(out.node)) {
            if (!is_load(network_.edges[id.value])) continue;
            const NodeId far_end = other_end(circuit_.branches[id.value], out.node);
            const Reached* back = to_minus_.find(far_end);
            if (back == nullptr) continue;
            const Loops loops = across(out, *back);
            merge(at_plus_[from_plus_.place(out.node)], loops);
            merge(at_minus_[to_minus_.place(far_end)], loops);
        }
    }
}

void LoopFinder::add_up_outgoing() {
    const std::vector<Reached>& reached = from_plus_.reached();
    for (auto place = static_cast<std::uint32_t>(reached.size()); place-- > 1;) {
        pass(reached[place].by, at_plus_[place]);
        merge(at_plus_[reached[place].parent], at_plus_[place]);
        try_other_ways_out(place);
    }
}

// A branch beside the tree gets the short at its own far end: what lies behind that is weaker.
void LoopFinder::try_other_ways_out(std::uint32_t far) {
    const Reached& way = from_plus_.reached()[far];
    for (const BranchId id : network_.branches_at(way.node)) {
        const Branch& branch = circuit_.branches[id.value];
        const FaultEdge& edge = network_.edges[id.value];
        const std::uint32_t near = from_plus_.place(other_end(branch, way.node));
        if (is_load(edge) || id == way.by || near == FaultTree::nowhere || near > far) continue;
        const Reached& nearer = from_plus_.reached()[near];
        if (can_flow(edge, branch, nearer.node) && nearer.node != feed_.minus)
            pass(id, across(extended(nearer, edge, id, way.node)));
        else if (can_flow(edge, branch, way.node) && way.node != feed_.minus)
            pass(id, across(extended(way, edge, id, nearer.node)));
    }
}

void LoopFinder::add_up_returning() {
    if (at_minus_.empty()) return;
    const std::vector<Reached>& reached = to_minus_.reached();
    for (auto place = static_cast<std::uint32_t>(reached.size()); place-- > 1;) {
        if (at_minus_[place].empty()) continue;
        pass(reached[place].by, at_minus_[place]);
        merge(at_minus_[reached[place].parent], at_minus_[place]);
        try_other_ways_back(place);
    }
}

// The shorts behind a node, taken over another branch than the shortest one. Their fuses between load and node are not
// known any more and are left out, which is the safe side.
void LoopFinder::try_other_ways_back(std::uint32_t far) {
    const Reached& way = to_minus_.reached()[far];
    for (const BranchId id : network_.branches_at(way.node)) {
        const Branch& branch = circuit_.branches[id.value];
        const FaultEdge& edge = network_.edges[id.value];
        const std::uint32_t near = to_minus_.place(other_end(branch, way.node));
        if (id == way.by || near == FaultTree::nowhere || near > far || !can_flow(edge, branch, way.node)) continue;
        const Reached instead = extended(to_minus_.reached()[near], edge, id, way.node);
        Loops loops = at_minus_[far];
        loops.least += instead.lo - way.lo;
        loops.most += instead.hi - way.hi;
        loops.drop += instead.drop - way.drop;
        loops.stop = tighter(loops.outgoing, instead.stop);
        loops.rank = std::max(loops.rank, instead.is_limited ? Rank::limited : Rank::parallel);
        pass(id, loops);
        merge(at_minus_[near], loops);
    }
}

void LoopFinder::merge(Loops& into, const Loops& more) const {
    if (more.empty()) return;
    if (into.empty()) {
        into = more;
        return;
    }
    const double least = std::min(into.least, more.least);
    const bool into_limited = into.rank == Rank::limited;
    const bool more_limited = more.rank == Rank::limited;
    if (into_limited != more_limited) {
        if (into_limited) into = more;
    } else if (is_worse(more.stop, into.stop)) {
        into = more;
    } else if (!is_worse(into.stop, more.stop)) {
        const bool is_plainer = more.rank < into.rank;
        const bool is_weaker = more.rank == into.rank && lowest_current(feed_, more) < lowest_current(feed_, into);
        if (is_plainer || is_weaker) into = more;
    }
    into.least = least;
}

void LoopFinder::pass(BranchId branch, const Loops& loops) {
    if (at_[branch.value].empty()) passed_.push_back(branch);
    merge(at_[branch.value], loops);
}

} // namespace trivet
