#include "protection/circuit_part.h"

#include "circuit/paths.h"

#include <numeric>
#include <utility>

namespace trivet {

namespace {

void add_node(CircuitParts& split, const Circuit& whole, NodeId node) {
    CircuitPart& part = split.parts[split.part_of(whole, node)];
    split.own_node[node.value] = {part.circuit.node_count++};
    part.node_of.push_back(node);
}

void add_branch(CircuitParts& split, const Circuit& whole, BranchId id) {
    CircuitPart& part = split.parts[split.part_of(whole, id)];
    Branch own = whole.branches[id.value];
    const auto map = [&](NodeId& node) { node = split.own_node[node.value]; };
    map(own.from);
    map(own.to);
    if (own.kind == BranchKind::converter) {
        map(own.output_from);
        map(own.output_to);
    }
    Circuit& circuit = part.circuit;
    for (std::uint32_t i = 0; i < own.parameters; ++i) {
        part.parameter_of.push_back(own.first_parameter + i);
        circuit.parameters.push_back(whole.parameters[own.first_parameter + i]);
    }
    own.first_parameter = static_cast<std::uint32_t>(circuit.parameters.size()) - own.parameters;
    split.own_branch[id.value] = {static_cast<std::uint32_t>(circuit.branches.size())};
    circuit.branches_of_island.front().push_back(split.own_branch[id.value]);
    circuit.branches.push_back(own);
    part.branch_of.push_back(id);
}

} // namespace

CircuitParts split_circuit(const Circuit& whole, std::vector<std::uint32_t> part_of_island, std::uint32_t parts) {
    CircuitParts split;
    split.part_of_island = std::move(part_of_island);
    split.parts.resize(parts);
    split.own_node.resize(whole.node_count);
    split.own_branch.resize(whole.branches.size());
    for (CircuitPart& part : split.parts) {
        part.circuit.island_count = 1;
        part.circuit.branches_of_island.resize(1);
    }
    for (std::uint32_t i = 0; i < whole.node_count; ++i) add_node(split, whole, {i});
    for (std::uint32_t i = 0; i < whole.branches.size(); ++i) add_branch(split, whole, {i});
    for (CircuitPart& part : split.parts) part.circuit.island_of_node.assign(part.circuit.node_count, IslandId{0});
    return split;
}

CircuitParts split_by_island(const Circuit& whole) {
    std::vector<std::uint32_t> itself(whole.island_count);
    std::iota(itself.begin(), itself.end(), 0U);
    return split_circuit(whole, std::move(itself), whole.island_count);
}

void LoopEdges::clear() {
    edges.clear();
    is_source.clear();
    branch.clear();
}

void LoopEdges::add(const Branch& added, BranchId id) {
    const auto put = [&](NodeId a, NodeId b) {
        edges.push_back({a.value, b.value});
        is_source.push_back(added.kind == BranchKind::source ? 1 : 0);
        branch.push_back(id);
    };
    if (added.kind == BranchKind::converter) {
        put(added.from, added.output_from);
        put(added.to, added.output_to);
    } else {
        put(added.from, added.to);
    }
}

void LoopEdges::add_all(const Circuit& circuit, const std::vector<char>& left_out) {
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i)
        if (left_out[i] == 0 && carries_power(circuit.branches[i])) add(circuit.branches[i], {i});
}

bool is_switch(const Branch& branch) {
    return branch.kind == BranchKind::contact || branch.kind == BranchKind::transistor;
}

bool can_turn_off(const Branch& branch) {
    return is_switch(branch) || branch.kind == BranchKind::cutoff || branch.kind == BranchKind::fuse;
}

} // namespace trivet
