#pragma once

#include "circuit/circuit.h"
#include "protection/block_forest.h"

#include <span>
#include <vector>

namespace trivet {

// Some islands of a circuit copied out as one, with numbers of their own, so that a question about them, or a changed
// copy of them, costs no more than they do. Drivers keep the numbers of the whole circuit and are not copied.
struct CircuitPart {
    Circuit circuit;                 // a single island, 0
    std::vector<BranchId> branch_of; // own -> whole
    std::vector<NodeId> node_of;
    std::vector<std::uint32_t> parameter_of;
};

struct CircuitParts {
    std::vector<CircuitPart> parts;
    std::vector<std::uint32_t> part_of_island; // [island of the whole]
    std::vector<BranchId> own_branch;          // whole -> own
    std::vector<NodeId> own_node;

    std::uint32_t part_of(const Circuit& whole, NodeId node) const {
        return part_of_island[whole.island_of_node[node.value].value];
    }
    std::uint32_t part_of(const Circuit& whole, BranchId branch) const {
        return part_of(whole, whole.branches[branch.value].from);
    }
};

// Islands with the same number in `part_of_island` end up in one part.
CircuitParts split_circuit(const Circuit& whole, std::vector<std::uint32_t> part_of_island, std::uint32_t parts);
CircuitParts split_by_island(const Circuit& whole);

inline constexpr BranchId no_branch{0xffffffff};

// Branches as edges among the nodes of a circuit; a converter is two, which couple each conductor of its input with one
// of its output, so that a loop through what it feeds goes on to its own supply.
struct LoopEdges {
    std::vector<PlainEdge> edges;
    std::vector<char> is_source;  // [edge]
    std::vector<BranchId> branch; // [edge]; no_branch: two points that a fault joins

    void clear();
    void add(const Branch& branch, BranchId id);
    // The power-carrying branches of all circuit but the marked ones.
    void add_all(const Circuit& circuit, const std::vector<char>& left_out);
};

bool is_switch(const Branch& branch);    // contacts and transistors
bool can_turn_off(const Branch& branch); // switches, cutoffs and fuses

} // namespace trivet
