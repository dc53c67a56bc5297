#pragma once

#include "electrical/island.h"

namespace trivet {

// A branch as part of a series chain; `sign` is -1 where the chain runs against the branch's own direction.
struct Link {
    std::uint32_t branch = 0;
    std::uint32_t node_after = 0; // where the chain is after it
    double sign = 1.0;
};

enum class EdgeLaw : std::uint8_t { series, shunt, input, output };

// What lies between two junctions with one current through it: a chain of branches whose voltages follow from the
// current (series), one branch whose current follows from its voltage (shunt), or one side of a converter.
struct Edge {
    EdgeLaw law{};
    std::uint32_t from = 0; // own nodes of the island
    std::uint32_t to = 0;
    std::uint32_t first_link = 0;
    std::uint32_t links = 0;
    std::uint32_t partner = nowhere; // the other side of a converter
    bool dead = false;               // no loop through it and a source: carries nothing
    bool linear = true;
};

enum class NodeRole : std::uint8_t { excluded, reference, junction, interior };

// An island in one state, with chains merged: only junctions and chains become unknowns.
struct Network {
    std::vector<Edge> edges;
    std::vector<Link> links;
    std::vector<NodeRole> role;             // [own node]; excluded: without any source, at 0 V
    std::vector<std::uint32_t> junction;    // [own node]: number among the junctions, else nowhere
    std::uint32_t junctions = 0;            // the references are not counted
    std::vector<std::uint32_t> link_of;     // [own branch]: its (input) link, nowhere if open or excluded
    std::vector<std::uint32_t> edge_of;     // [link]
    std::vector<std::uint32_t> output_edge; // [own branch]: converters
    std::vector<std::uint32_t> link_before; // [own node]: interior nodes: the link that ends there
    bool linear = true;

    std::uint32_t unknowns() const { return junctions + static_cast<std::uint32_t>(edges.size()); }
};

// `closed`: [own branch]. The memory of an earlier network is reused.
void reduce(const Island& island, const std::vector<char>& closed, Network& network);

// Marks every edge that shares no loop with a source or converter output (biconnected components, Tarjan 1972).
void mark_dead(const Island& island, Network& network);

} // namespace trivet
