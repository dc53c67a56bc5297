#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace trivet {

// An undirected edge between two nodes 0..n-1; several may join the same two.
struct PlainEdge {
    std::uint32_t a = 0;
    std::uint32_t b = 0;
};

// For each edge the number of its biconnected component (Hopcroft and Tarjan 1973): two edges share one exactly when a
// loop that visits no node twice passes both. An edge from a node to itself has one of its own.
std::vector<std::size_t> loop_components(std::uint32_t nodes, std::span<const PlainEdge> edges);

// Marks the edges that every loop through edges `first` and `second` passes, if such a loop exists, those two excepted.
// Time grows linearly with the graph: such a loop is a flow of two node-disjoint paths, and an edge is on all of them
// exactly when its ends lie in different strong components of what the flow leaves free (a minimum cut; Ford and
// Fulkerson 1956, Picard and Queyranne 1980).
std::vector<bool> on_every_loop(std::uint32_t nodes, std::span<const PlainEdge> edges, std::size_t first,
                                std::size_t second);

} // namespace trivet
