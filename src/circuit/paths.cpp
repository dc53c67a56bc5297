#include "circuit/paths.h"

#include "circuit/loop_cut.h"
#include "circuit/union_find.h"

#include <algorithm>
#include <span>

namespace trivet {

namespace {

// The nodes of one island under small numbers, so that a question about it costs no more than the island.
class LocalNodes {
public:
    LocalNodes(const Circuit& circuit, std::span<const BranchId> branches) {
        for (const BranchId id : branches) {
            const Branch& branch = circuit.branches[id.value];
            for (const NodeId end : {branch.from, branch.to}) nodes_.push_back(end);
            if (branch.kind != BranchKind::converter) continue;
            for (const NodeId end : {branch.output_from, branch.output_to}) nodes_.push_back(end);
        }
        std::ranges::sort(nodes_);
        nodes_.erase(std::unique(nodes_.begin(), nodes_.end()), nodes_.end());
    }

    std::uint32_t count() const { return static_cast<std::uint32_t>(nodes_.size()); }
    std::uint32_t operator()(NodeId node) const {
        return static_cast<std::uint32_t>(std::ranges::lower_bound(nodes_, node) - nodes_.begin());
    }

private:
    std::vector<NodeId> nodes_;
};

std::span<const BranchId> island_of(const Circuit& circuit, BranchId branch) {
    return circuit.branches_of_island[circuit.island_of_node[circuit.branches[branch.value].from.value].value];
}

// The power-carrying branches of an island and the branch asked about, as a graph. A converter is two edges, which
// couple the conductors of its input with those of its output, so that a loop through what it feeds goes on to its own
// supply; asked about itself, it is the edge across its input.
struct LoopGraph {
    std::uint32_t nodes = 0;
    std::vector<PlainEdge> edges;
    std::vector<BranchId> branch; // [edge]
    std::size_t asked = 0;
};

LoopGraph loops_around(const Circuit& circuit, BranchId asked) {
    const std::span<const BranchId> island = island_of(circuit, asked);
    const LocalNodes local(circuit, island);
    LoopGraph graph;
    graph.nodes = local.count();
    const auto add = [&](NodeId a, NodeId b, BranchId id) {
        graph.edges.push_back({local(a), local(b)});
        graph.branch.push_back(id);
    };
    for (const BranchId id : island) {
        const Branch& branch = circuit.branches[id.value];
        if (id == asked) {
            graph.asked = graph.edges.size();
            add(branch.from, branch.to, id);
        } else if (branch.kind == BranchKind::converter) {
            add(branch.from, branch.output_from, id);
            add(branch.to, branch.output_to, id);
        } else if (carries_power(branch)) {
            add(branch.from, branch.to, id);
        }
    }
    return graph;
}

// The edges on which a loop with the asked branch is possible: marked by component.
struct LoopsWithSource {
    LoopGraph graph;
    std::vector<std::size_t> component; // [edge]
    std::vector<std::size_t> sources;   // edges of sources that share a loop with the asked branch

    bool around(std::size_t edge) const { return component[edge] == component[graph.asked]; }
};

LoopsWithSource loops_with_source(const Circuit& circuit, BranchId asked) {
    LoopsWithSource loops{loops_around(circuit, asked), {}, {}};
    loops.component = loop_components(loops.graph.nodes, loops.graph.edges);
    for (std::size_t i = 0; i < loops.graph.edges.size(); ++i)
        if (i != loops.graph.asked && loops.around(i) &&
            circuit.branches[loops.graph.branch[i].value].kind == BranchKind::source)
            loops.sources.push_back(i);
    return loops;
}

bool can_interrupt(const Branch& branch) {
    return carries_power(branch) && branch.kind != BranchKind::source && branch.kind != BranchKind::converter;
}

} // namespace

bool carries_power(const Branch& branch) {
    switch (branch.kind) {
    case BranchKind::resistor:
    case BranchKind::thermistor:
    case BranchKind::coil:
    case BranchKind::load:
    case BranchKind::heater:
        return false;
    default:
        return true;
    }
}

std::vector<BranchId> interrupters_of(const Circuit& circuit, BranchId heater) {
    const LoopsWithSource loops = loops_with_source(circuit, heater);
    const LoopGraph& graph = loops.graph;
    std::vector<bool> interrupts(graph.edges.size(), !loops.sources.empty());
    for (const std::size_t source : loops.sources) {
        const std::vector<bool> needed = on_every_loop(graph.nodes, graph.edges, graph.asked, source);
        for (std::size_t i = 0; i < interrupts.size(); ++i) interrupts[i] = interrupts[i] && needed[i];
    }
    std::vector<BranchId> found;
    for (std::size_t i = 0; i < interrupts.size(); ++i)
        if (interrupts[i] && i != graph.asked && can_interrupt(circuit.branches[graph.branch[i].value]))
            found.push_back(graph.branch[i]);
    return found;
}

bool shares_loop(const Circuit& circuit, BranchId heater, BranchId other) {
    const LoopsWithSource loops = loops_with_source(circuit, heater);
    if (loops.sources.empty()) return false;
    for (std::size_t i = 0; i < loops.graph.edges.size(); ++i)
        if (loops.graph.branch[i] == other && loops.around(i)) return true;
    return false;
}

bool is_fed(const Circuit& circuit, BranchId branch) { return !loops_with_source(circuit, branch).sources.empty(); }

std::vector<BranchId> feeders_of(const Circuit& circuit, BranchId branch) {
    const std::span<const BranchId> island = island_of(circuit, branch);
    const LocalNodes local(circuit, island);
    UnionFind joined(local.count());
    for (const BranchId id : island) {
        const Branch& passed = circuit.branches[id.value];
        if (id != branch && can_interrupt(passed)) joined.join(local(passed.from), local(passed.to));
    }
    const auto reached = [&](NodeId node) { return joined.find(local(node)); };
    const Branch& fed = circuit.branches[branch.value];
    const std::uint32_t from = reached(fed.from);
    const std::uint32_t to = reached(fed.to);
    const auto spans = [&](NodeId plus, NodeId minus) {
        const std::uint32_t high = reached(plus);
        const std::uint32_t low = reached(minus);
        return (high == from && low == to) || (high == to && low == from);
    };
    std::vector<BranchId> found;
    for (const BranchId id : island) {
        const Branch& supply = circuit.branches[id.value];
        if (id == branch) continue;
        if (supply.kind == BranchKind::source && spans(supply.from, supply.to)) found.push_back(id);
        if (supply.kind == BranchKind::converter && spans(supply.output_from, supply.output_to)) found.push_back(id);
    }
    return found;
}

} // namespace trivet
