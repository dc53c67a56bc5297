#include "circuit/loop_cut.h"

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

namespace trivet {

namespace {

constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

// A network of arcs that carry one unit each. Arcs 2k and 2k+1 are each other's way back.
class UnitFlow {
public:
    explicit UnitFlow(std::uint32_t vertices)
        : first_arc_(vertices, none) {}

    std::uint32_t add(std::uint32_t from, std::uint32_t to) {
        const auto arc = static_cast<std::uint32_t>(arcs_.size());
        arcs_.push_back({to, first_arc_[from], true});
        arcs_.push_back({from, first_arc_[to], false});
        first_arc_[from] = arc;
        first_arc_[to] = arc + 1;
        return arc;
    }

    // One more unit along a shortest free way; false if there is none.
    bool augment(std::uint32_t source, std::uint32_t target) {
        std::vector<std::uint32_t> reached_by(first_arc_.size(), none);
        std::vector<std::uint32_t> queue{source};
        for (std::size_t next = 0; next < queue.size() && reached_by[target] == none; ++next) {
            for (std::uint32_t arc = first_arc_[queue[next]]; arc != none; arc = arcs_[arc].next) {
                const std::uint32_t to = arcs_[arc].to;
                if (!arcs_[arc].free || to == source || reached_by[to] != none) continue;
                reached_by[to] = arc;
                queue.push_back(to);
            }
        }
        if (reached_by[target] == none) return false;
        for (std::uint32_t at = target; at != source; at = arcs_[reached_by[at] ^ 1U].to) {
            arcs_[reached_by[at]].free = false;
            arcs_[reached_by[at] ^ 1U].free = true;
        }
        return true;
    }

    bool carries(std::uint32_t arc) const { return !arcs_[arc].free; }

    // [vertex]: number of its strong component over the free arcs.
    std::vector<std::uint32_t> strong_components() const {
        using Free = boost::compressed_sparse_row_graph<boost::directedS>;
        std::vector<std::pair<std::uint32_t, std::uint32_t>> free;
        for (std::uint32_t arc = 0; arc < arcs_.size(); ++arc)
            if (arcs_[arc].free) free.emplace_back(arcs_[arc ^ 1U].to, arcs_[arc].to);
        const Free graph(boost::edges_are_unsorted_multi_pass, free.begin(), free.end(), first_arc_.size());
        std::vector<std::uint32_t> component(first_arc_.size());
        boost::strong_components(
            graph, boost::make_iterator_property_map(component.begin(), boost::get(boost::vertex_index, graph)));
        return component;
    }

private:
    struct Arc {
        std::uint32_t to = 0;
        std::uint32_t next = none; // of the same vertex
        bool free = true;
    };
    std::vector<Arc> arcs_;
    std::vector<std::uint32_t> first_arc_; // [vertex]
};

std::uint32_t entry(std::uint32_t node) { return 2 * node; }
std::uint32_t leaving(std::uint32_t node) { return 2 * node + 1; }

} // namespace

std::vector<std::size_t> loop_components(std::uint32_t nodes, std::span<const PlainEdge> edges) {
    using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                        boost::property<boost::edge_index_t, std::size_t>>;
    // The library's algorithm passes over a second edge between two nodes, so that parallel ones go in as one.
    std::vector<std::tuple<std::uint32_t, std::uint32_t, std::size_t>> sorted;
    for (std::size_t i = 0; i < edges.size(); ++i)
        sorted.emplace_back(std::min(edges[i].a, edges[i].b), std::max(edges[i].a, edges[i].b), i);
    std::ranges::sort(sorted);
    Graph graph(nodes);
    std::vector<std::size_t> merged(edges.size());
    std::size_t count = 0;
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        const auto& [a, b, edge] = sorted[i];
        const bool parallel = i > 0 && std::get<0>(sorted[i - 1]) == a && std::get<1>(sorted[i - 1]) == b;
        if (a != b && !parallel) boost::add_edge(a, b, count++, graph);
        merged[edge] = a != b ? count - 1 : none;
    }
    std::vector<std::size_t> component(count);
    std::size_t next = boost::biconnected_components(
        graph, boost::make_iterator_property_map(component.begin(), boost::get(boost::edge_index, graph)));
    std::vector<std::size_t> result(edges.size());
    for (std::size_t i = 0; i < edges.size(); ++i) result[i] = merged[i] == none ? next++ : component[merged[i]];
    return result;
}

std::vector<bool> on_every_loop(std::uint32_t nodes, std::span<const PlainEdge> edges, std::size_t first,
                                std::size_t second) {
    const std::uint32_t source = 2 * nodes;
    const std::uint32_t target = source + 1;
    UnitFlow flow(target + 1);
    for (std::uint32_t node = 0; node < nodes; ++node) flow.add(entry(node), leaving(node));
    for (const std::uint32_t end : {edges[first].a, edges[first].b}) flow.add(source, entry(end));
    for (const std::uint32_t end : {edges[second].a, edges[second].b}) flow.add(leaving(end), target);
    std::vector<std::uint32_t> arc(edges.size(), none); // the first of two, one each way
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (i == first || i == second || edges[i].a == edges[i].b) continue;
        arc[i] = flow.add(leaving(edges[i].a), entry(edges[i].b));
        flow.add(leaving(edges[i].b), entry(edges[i].a));
    }
    std::vector<bool> result(edges.size(), false);
    if (!flow.augment(source, target) || !flow.augment(source, target)) return result;
    const std::vector<std::uint32_t> component = flow.strong_components();
    const auto is_cut = [&](std::uint32_t passed, std::uint32_t from, std::uint32_t to) {
        return flow.carries(passed) && component[leaving(from)] != component[entry(to)];
    };
    for (std::size_t i = 0; i < edges.size(); ++i)
        result[i] =
            arc[i] != none && (is_cut(arc[i], edges[i].a, edges[i].b) || is_cut(arc[i] + 2, edges[i].b, edges[i].a));
    return result;
}

} // namespace trivet
