#include "protection/loop_path.h"

#include <algorithm>
#include <array>
#include <limits>

namespace trivet {

namespace {

constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

// Every node is an entry 2n and an exit 2n+1 with one unit between them; arcs 2k and 2k+1 are each other's way back.
class TwoWays {
public:
    TwoWays(std::uint32_t nodes, const LoopEdges& edges)
        : arcs_at_(2 * nodes + 2) {
        for (std::uint32_t node = 0; node < nodes; ++node) add(2 * node, 2 * node + 1, none);
        for (std::uint32_t e = 0; e < edges.edges.size(); ++e) {
            const PlainEdge& edge = edges.edges[e];
            if (edge.a == edge.b) continue;
            add(2 * edge.a + 1, 2 * edge.b, e);
            add(2 * edge.b + 1, 2 * edge.a, e);
        }
        start_ = 2 * nodes;
        end_ = start_ + 1;
        fixed_ = arcs_.size();
    }

    // Ways from each of two nodes to one of two others; false if they cannot be had without meeting.
    bool find(std::uint32_t from, std::uint32_t to, std::uint32_t source_edge, const PlainEdge& source) {
        reset();
        source_edge_ = source_edge;
        for (const std::uint32_t node : {from, to}) add(start_, 2 * node, none);
        for (const std::uint32_t node : {source.a, source.b}) add(2 * node + 1, end_, none);
        return augment() && augment();
    }

    // The edges of the way that begins at a node, and the node where it ends.
    std::vector<std::uint32_t> way(std::uint32_t from, std::uint32_t& last) const {
        std::vector<std::uint32_t> passed;
        std::uint32_t exit = 2 * from + 1;
        while (true) {
            std::uint32_t next = none;
            for (const std::uint32_t arc : arcs_at_[exit])
                if (arc % 2 == 0 && !arcs_[arc].free && arcs_[arc].edge != source_edge_) next = arc;
            if (next == none || arcs_[next].to == end_) break;
            passed.push_back(arcs_[next].edge);
            exit = arcs_[next].to + 1;
        }
        last = exit / 2;
        return passed;
    }

private:
    struct Arc {
        std::uint32_t to;
        std::uint32_t edge;
        bool free;
    };

    void add(std::uint32_t from, std::uint32_t to, std::uint32_t edge) {
        arcs_at_[from].push_back(static_cast<std::uint32_t>(arcs_.size()));
        arcs_.push_back({to, edge, true});
        arcs_at_[to].push_back(static_cast<std::uint32_t>(arcs_.size()));
        arcs_.push_back({from, edge, false});
    }

    void reset() {
        arcs_.resize(fixed_);
        for (std::vector<std::uint32_t>& arcs : arcs_at_)
            while (!arcs.empty() && arcs.back() >= fixed_) arcs.pop_back();
        for (std::size_t i = 0; i < arcs_.size(); ++i) arcs_[i].free = i % 2 == 0;
    }

    bool augment() {
        std::vector<std::uint32_t> reached_by(arcs_at_.size(), none);
        std::vector<std::uint32_t> queue{start_};
        for (std::size_t next = 0; next < queue.size() && reached_by[end_] == none; ++next) {
            for (const std::uint32_t arc : arcs_at_[queue[next]]) {
                const std::uint32_t to = arcs_[arc].to;
                if (!arcs_[arc].free || arcs_[arc].edge == source_edge_ || to == start_ || reached_by[to] != none)
                    continue;
                reached_by[to] = arc;
                queue.push_back(to);
            }
        }
        if (reached_by[end_] == none) return false;
        for (std::uint32_t at = end_; at != start_; at = arcs_[reached_by[at] ^ 1U].to) {
            arcs_[reached_by[at]].free = false;
            arcs_[reached_by[at] ^ 1U].free = true;
        }
        return true;
    }

    std::vector<Arc> arcs_;
    std::vector<std::vector<std::uint32_t>> arcs_at_;
    std::uint32_t start_ = 0;
    std::uint32_t end_ = 0;
    std::size_t fixed_ = 0;
    std::uint32_t source_edge_ = 0; // not to be passed on the way to its own ends
};

} // namespace

std::vector<std::uint32_t> loop_path(std::uint32_t nodes, const LoopEdges& edges, std::uint32_t from,
                                     std::uint32_t to) {
    if (from == to) return {};
    TwoWays ways(nodes, edges);
    for (std::uint32_t e = 0; e < edges.edges.size(); ++e) {
        const PlainEdge& source = edges.edges[e];
        if (edges.is_source[e] == 0 || source.a == source.b || !ways.find(from, to, e, source)) continue;
        std::uint32_t last = 0;
        std::vector<std::uint32_t> loop = ways.way(from, last);
        loop.push_back(e);
        std::vector<std::uint32_t> back = ways.way(to, last);
        loop.insert(loop.end(), back.rbegin(), back.rend());
        return loop;
    }
    return {};
}

} // namespace trivet
