#include "electrical/network.h"

#include <algorithm>

namespace trivet {

namespace {

bool drives(const Island& island, const Network& network, const Edge& edge) {
    if (edge.law == EdgeLaw::output) return true;
    if (edge.law != EdgeLaw::series) return false;
    const auto begin = network.links.begin() + edge.first_link;
    return std::any_of(begin, begin + edge.links,
                       [&](const Link& link) { return island.branches[link.branch].kind == BranchKind::source; });
}

// Depth-first search with an edge stack; every block is complete when its lowest reachable depth is met again.
class BlockSearch {
public:
    BlockSearch(const Island& island, Network& network)
        : island_(island)
        , network_(network) {}

    void run() {
        list_edges();
        depth_.assign(island_.node_of.size(), 0);
        lowest_.assign(island_.node_of.size(), 0);
        for (std::uint32_t e = 0; e < network_.edges.size(); ++e) {
            Edge& edge = network_.edges[e];
            if (edge.from == edge.to)
                edge.dead = !drives(island_, network_, edge);
            else if (depth_[edge.from] == 0)
                search(edge.from);
        }
    }

private:
    struct Visit {
        std::uint32_t node;
        std::uint32_t by_edge;
        std::uint32_t next;
    };

    void list_edges() {
        first_.assign(island_.node_of.size() + 1, 0);
        for (const Edge& edge : network_.edges) {
            ++first_[edge.from + 1];
            ++first_[edge.to + 1];
        }
        for (std::size_t i = 1; i < first_.size(); ++i) first_[i] += first_[i - 1];
        at_.resize(first_.back());
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        for (std::uint32_t e = 0; e < network_.edges.size(); ++e) {
            at_[next[network_.edges[e].from]++] = e;
            at_[next[network_.edges[e].to]++] = e;
        }
    }

    void enter(std::uint32_t node, std::uint32_t by_edge) {
        depth_[node] = lowest_[node] = ++clock_;
        visits_.push_back({node, by_edge, first_[node]});
    }

    void search(std::uint32_t root) {
        enter(root, nowhere);
        while (!visits_.empty()) {
            Visit& here = visits_.back();
            if (here.next == first_[here.node + 1]) {
                leave();
                continue;
            }
            const std::uint32_t e = at_[here.next++];
            const Edge& edge = network_.edges[e];
            if (e == here.by_edge || edge.from == edge.to) continue;
            const std::uint32_t other = edge.from == here.node ? edge.to : edge.from;
            if (depth_[other] == 0) {
                open_.push_back(e);
                enter(other, e);
            } else if (depth_[other] < depth_[here.node]) {
                open_.push_back(e);
                lowest_[here.node] = std::min(lowest_[here.node], depth_[other]);
            }
        }
    }

    void leave() {
        const Visit done = visits_.back();
        visits_.pop_back();
        if (visits_.empty()) return;
        const std::uint32_t parent = visits_.back().node;
        lowest_[parent] = std::min(lowest_[parent], lowest_[done.node]);
        if (lowest_[done.node] >= depth_[parent]) close_block(done.by_edge);
    }

    void close_block(std::uint32_t last_edge) {
        auto begin = open_.end();
        bool driven = false;
        do {
            --begin;
            driven = driven || drives(island_, network_, network_.edges[*begin]);
        } while (*begin != last_edge);
        // One edge alone closes no loop, whatever it is.
        const bool dead = !driven || open_.end() - begin == 1;
        for (auto e = begin; e != open_.end(); ++e) network_.edges[*e].dead = dead;
        open_.erase(begin, open_.end());
    }

    const Island& island_;
    Network& network_;
    std::vector<std::uint32_t> first_;
    std::vector<std::uint32_t> at_;
    std::vector<std::uint32_t> depth_;
    std::vector<std::uint32_t> lowest_;
    std::vector<std::uint32_t> open_;
    std::vector<Visit> visits_;
    std::uint32_t clock_ = 0;
};

} // namespace

void mark_dead(const Island& island, Network& network) { BlockSearch(island, network).run(); }

} // namespace trivet
