#include "protection/block_forest.h"

#include <algorithm>
#include <limits>

namespace trivet {

namespace {
constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
}

void BlockForest::list_neighbours(std::uint32_t nodes, std::span<const PlainEdge> edges) {
    first_.assign(nodes + 2, 0);
    for (const PlainEdge& edge : edges) {
        if (edge.a == edge.b) continue;
        ++first_[edge.a + 2];
        ++first_[edge.b + 2];
    }
    for (std::size_t i = 2; i < first_.size(); ++i) first_[i] += first_[i - 1];
    edge_at_.resize(first_.back());
    for (std::uint32_t i = 0; i < edges.size(); ++i) {
        if (edges[i].a == edges[i].b) continue;
        edge_at_[first_[edges[i].a + 1]++] = i;
        edge_at_[first_[edges[i].b + 1]++] = i;
    }
}

void BlockForest::close_block(std::uint32_t child, std::uint32_t top) {
    const auto block = static_cast<std::uint32_t>(top_.size());
    top_.push_back(top);
    std::uint32_t member = none;
    do {
        member = open_.back();
        open_.pop_back();
        block_[member] = block;
    } while (member != child);
}

void BlockForest::search_from(std::uint32_t root, std::span<const PlainEdge> edges) {
    const auto enter = [&](std::uint32_t node, std::uint32_t parent) {
        order_.push_back(node);
        found_[node] = low_[node] = static_cast<std::uint32_t>(order_.size());
        open_.push_back(node);
        frames_.push_back({node, first_[node], parent});
    };
    open_.clear();
    enter(root, none);
    while (!frames_.empty()) {
        Frame& here = frames_.back();
        if (here.next == first_[here.node + 1]) {
            const std::uint32_t child = here.node;
            frames_.pop_back();
            if (frames_.empty()) return;
            const std::uint32_t above = frames_.back().node;
            low_[above] = std::min(low_[above], low_[child]);
            if (low_[child] >= found_[above]) close_block(child, above);
            continue;
        }
        const std::uint32_t edge = edge_at_[here.next++];
        if (edge == here.parent) continue;
        const std::uint32_t node = here.node;
        const std::uint32_t other = edges[edge].a == node ? edges[edge].b : edges[edge].a;
        if (found_[other] == 0)
            enter(other, edge);
        else
            low_[node] = std::min(low_[node], found_[other]);
    }
}

void BlockForest::mark_sources(std::span<const PlainEdge> edges, const std::vector<char>& is_source) {
    has_source_.assign(top_.size(), 0);
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (is_source[i] == 0 || edges[i].a == edges[i].b) continue;
        has_source_[block_of(edges[i])] = 1;
    }
}

void BlockForest::build(std::uint32_t nodes, std::span<const PlainEdge> edges, const std::vector<char>& is_source) {
    list_neighbours(nodes, edges);
    found_.assign(nodes, 0);
    low_.assign(nodes, 0);
    block_.assign(nodes, none);
    depth_.assign(nodes, 0);
    order_.clear();
    top_.clear();
    for (std::uint32_t node = 0; node < nodes; ++node)
        if (found_[node] == 0) search_from(node, edges);
    for (const std::uint32_t node : order_)
        if (block_[node] != none) depth_[node] = depth_[top_[block_[node]]] + 1;
    mark_sources(edges, is_source);
}

template <class Visit> bool BlockForest::climb(std::uint32_t a, std::uint32_t b, Visit visit) const {
    const auto up = [&](std::uint32_t& node) {
        visit(block_[node]);
        node = top_[block_[node]];
    };
    while (a != b) {
        if (depth_[a] < depth_[b]) std::swap(a, b);
        if (block_[a] == none) return false;
        if (depth_[a] == depth_[b] && block_[a] != block_[b])
            up(b);
        else if (depth_[a] == depth_[b])
            b = top_[block_[b]];
        up(a);
    }
    return true;
}

bool BlockForest::source_between(std::uint32_t a, std::uint32_t b) const {
    bool passed = false;
    const bool joined = climb(a, b, [&](std::uint32_t block) { passed = passed || has_source(block); });
    return joined && passed;
}

std::vector<std::uint32_t> BlockForest::blocks_between(std::uint32_t a, std::uint32_t b) const {
    std::vector<std::uint32_t> passed;
    if (!climb(a, b, [&](std::uint32_t block) { passed.push_back(block); })) passed.clear();
    return passed;
}

} // namespace trivet
