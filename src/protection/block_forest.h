#pragma once

#include "circuit/loop_cut.h"

#include <cstdint>
#include <span>
#include <vector>

namespace trivet {

// The biconnected components ("blocks") of a graph and how they hang together (Hopcroft and Tarjan 1973). Made to be
// built again and again for slightly different graphs: one build is linear in nodes and edges, memory is reused.
class BlockForest {
public:
    // Edges from a node to itself are ignored. `is_source` counts per edge.
    void build(std::uint32_t nodes, std::span<const PlainEdge> edges, const std::vector<char>& is_source);

    // Whether a path from a to b that visits no node twice can pass a source: whether something connected between the
    // two would be in a loop with a source. False for a == b.
    bool source_between(std::uint32_t a, std::uint32_t b) const;

    // The blocks such paths pass, none if there is no path; and the block an edge belongs to (not for an edge from a
    // node to itself).
    std::vector<std::uint32_t> blocks_between(std::uint32_t a, std::uint32_t b) const;
    std::uint32_t block_of(const PlainEdge& edge) const {
        return block_[depth_[edge.a] >= depth_[edge.b] ? edge.a : edge.b];
    }
    bool has_source(std::uint32_t block) const { return has_source_[block] != 0; }

private:
    // Visits every block on the way; false if there is no way.
    template <class Visit> bool climb(std::uint32_t a, std::uint32_t b, Visit visit) const;

    void list_neighbours(std::uint32_t nodes, std::span<const PlainEdge> edges);
    void search_from(std::uint32_t root, std::span<const PlainEdge> edges);
    void close_block(std::uint32_t child, std::uint32_t top);
    void mark_sources(std::span<const PlainEdge> edges, const std::vector<char>& is_source);

    struct Frame {
        std::uint32_t node;
        std::uint32_t next;   // into edge_at_
        std::uint32_t parent; // edge
    };
    std::vector<std::uint32_t> first_;   // [node]: into edge_at_
    std::vector<std::uint32_t> edge_at_; // edges around each node
    std::vector<std::uint32_t> found_;   // [node]: order of discovery, from 1; 0: not yet
    std::vector<std::uint32_t> low_;     // [node]
    std::vector<std::uint32_t> order_;   // nodes by discovery
    std::vector<std::uint32_t> open_;    // nodes whose block is not closed yet
    std::vector<Frame> frames_;
    std::vector<std::uint32_t> block_; // [node]: the block that joins it to its root
    std::vector<std::uint32_t> depth_; // [node]: blocks between it and its root
    std::vector<std::uint32_t> top_;   // [block]: its node nearest to the root
    std::vector<char> has_source_;     // [block]
};

} // namespace trivet
