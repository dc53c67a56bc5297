#include "electrical/fault_network.h"

#include "circuit/union_find.h"
#include "electrical/fuse.h"

#include <variant>

namespace trivet {

namespace {

constexpr double largest_in_power_path = 1.0; // ohm: up to here a resistor measures the current of what lies behind it

FaultEdge edge_of(const Circuit& circuit, const Branch& branch) {
    const auto parameter = [&](std::uint32_t which) { return circuit.parameters[branch.first_parameter + which]; };
    const auto both_ways = [](Parameter resistance) {
        return FaultEdge{resistance.lo, resistance.hi, 0.0, true, true, false, {}};
    };
    switch (branch.kind) {
    case BranchKind::fuse:
    case BranchKind::cutoff:
    case BranchKind::contact:
    case BranchKind::conductor:
    case BranchKind::wire:
        return both_ways(parameter(0));
    case BranchKind::transistor: {
        FaultEdge edge = both_ways(parameter(0));
        edge.drop = parameter(1).hi;
        return edge;
    }
    case BranchKind::resistor:
    case BranchKind::thermistor: {
        FaultEdge edge = both_ways(parameter(0));
        edge.limits = parameter(0).lo > largest_in_power_path;
        return edge;
    }
    case BranchKind::diode:
        return {0.0, 0.0, parameter(0).hi, true, false, false, {}};
    case BranchKind::source:
        return {parameter(1).lo, parameter(1).hi, -parameter(0).lo, false, true, false, {}};
    case BranchKind::coil:
    case BranchKind::converter:
    case BranchKind::heater:
    case BranchKind::load:
        break;
    }
    return {};
}

Stop stop_of(const Branch& branch, BranchId id, const Design& design, const Handbook& handbook) {
    const auto& fuse = std::get<FuseElement>(design.part(branch.part).part->elements[branch.element].body);
    const auto current = operating_current(fuse, handbook);
    return {current ? current->si : std::numeric_limits<double>::infinity(), id};
}

void list_branches_at_nodes(const Circuit& circuit, FaultNetwork& network) {
    network.first.assign(circuit.node_count + 1, 0);
    const auto count = [&](NodeId node) { ++network.first[node.value + 1]; };
    for (const Branch& branch : circuit.branches) {
        if (branch.from == branch.to) continue;
        count(branch.from);
        count(branch.to);
    }
    for (std::uint32_t node = 0; node < circuit.node_count; ++node) network.first[node + 1] += network.first[node];
    network.branches_at_nodes.resize(network.first.back());
    std::vector<std::uint32_t> next(network.first.begin(), network.first.end() - 1);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.from == branch.to) continue;
        network.branches_at_nodes[next[branch.from.value]++] = {i};
        network.branches_at_nodes[next[branch.to.value]++] = {i};
    }
}

} // namespace

Stop tighter(const Stop& a, const Stop& b) {
    if (a.operates_at != b.operates_at) return a.operates_at < b.operates_at ? a : b;
    return a.fuse ? a : b;
}

bool can_flow(const FaultEdge& edge, const Branch& branch, NodeId from) {
    return branch.from == from ? edge.forward : edge.backward;
}

FaultNetwork fault_network(const Circuit& circuit, const Design& design, const Handbook& handbook) {
    FaultNetwork network;
    network.edges.reserve(circuit.branches.size());
    UnionFind joined(circuit.node_count);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        FaultEdge edge = edge_of(circuit, branch);
        if (branch.kind == BranchKind::fuse) edge.stop = stop_of(branch, {i}, design, handbook);
        if ((edge.forward || edge.backward) && !edge.limits) joined.join(branch.from.value, branch.to.value);
        network.edges.push_back(edge);
    }
    std::vector<bool> has_supply(circuit.node_count, false);
    for (const Branch& branch : circuit.branches) {
        if (branch.kind == BranchKind::source) has_supply[joined.find(branch.from.value)] = true;
        if (branch.kind != BranchKind::converter) continue;
        has_supply[joined.find(branch.output_from.value)] = true;
        has_supply[joined.find(branch.output_to.value)] = true;
    }
    network.is_supplied.resize(circuit.node_count);
    for (std::uint32_t node = 0; node < circuit.node_count; ++node)
        network.is_supplied[node] = has_supply[joined.find(node)];
    list_branches_at_nodes(circuit, network);
    return network;
}

} // namespace trivet
