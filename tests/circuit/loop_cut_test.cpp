#include "circuit/loop_cut.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <random>

namespace trivet {
namespace {

// An independent answer for small graphs: tries every way from one node to another that visits no node twice and says
// whether one passes the edge `through`. `removed` is not passed.
class EveryWay {
public:
    EveryWay(std::uint32_t nodes, const std::vector<PlainEdge>& edges, std::size_t removed)
        : edges_(edges)
        , visited_(nodes, false)
        , removed_(removed) {}

    bool loop_through(std::size_t first, std::size_t second) {
        if (edges_[first].a == edges_[first].b) return false;
        std::fill(visited_.begin(), visited_.end(), false);
        return walk(edges_[first].a, edges_[first].b, first, second, false);
    }

private:
    bool walk(std::uint32_t at, std::uint32_t target, std::size_t closing, std::size_t through, bool passed) {
        if (at == target) return passed;
        visited_[at] = true;
        for (std::size_t i = 0; i < edges_.size(); ++i) {
            if (i == closing || i == removed_) continue;
            const bool leaves = edges_[i].a == at || edges_[i].b == at;
            const std::uint32_t next = edges_[i].a == at ? edges_[i].b : edges_[i].a;
            if (leaves && !visited_[next] && walk(next, target, closing, through, passed || i == through)) return true;
        }
        visited_[at] = false;
        return false;
    }

    const std::vector<PlainEdge>& edges_;
    std::vector<bool> visited_;
    std::size_t removed_;
};

std::vector<PlainEdge> random_edges(std::mt19937& random, std::uint32_t nodes, std::size_t count) {
    std::uniform_int_distribution<std::uint32_t> node(0, nodes - 1);
    std::vector<PlainEdge> edges;
    for (std::size_t i = 0; i < count; ++i) edges.push_back({node(random), node(random)});
    return edges;
}

TEST(LoopCut, AgreesWithTryingEveryLoopInRandomGraphs) {
    std::mt19937 random(20240611); // fixed, so that a failure can be repeated
    std::uniform_int_distribution<std::uint32_t> nodes_between(2, 8);
    std::uniform_int_distribution<std::size_t> edges_between(2, 12);
    std::size_t cuts = 0;
    for (int round = 0; round < 3000; ++round) {
        const std::uint32_t nodes = nodes_between(random);
        const auto edges = random_edges(random, nodes, edges_between(random));
        const auto component = loop_components(nodes, edges);
        const bool loop = EveryWay(nodes, edges, edges.size()).loop_through(0, 1);
        ASSERT_EQ(component[0] == component[1], loop) << "round " << round;
        const auto found = on_every_loop(nodes, edges, 0, 1);
        for (std::size_t i = 0; i < edges.size(); ++i) {
            const bool expected = i > 1 && loop && !EveryWay(nodes, edges, i).loop_through(0, 1);
            ASSERT_EQ(found[i], expected) << "round " << round << ", edge " << i;
            cuts += expected ? 1 : 0;
        }
    }
    EXPECT_GT(cuts, 500U); // the graphs were worth asking about
}

TEST(LoopCut, ParallelEdgesMakeALoop) {
    const std::vector<PlainEdge> edges{{0, 1}, {1, 0}, {1, 2}};
    const auto component = loop_components(3, edges);
    EXPECT_EQ(component[0], component[1]);
    EXPECT_NE(component[0], component[2]);
}

// A ring of 100 000 edges: every edge is on the only loop. Linear it takes well below a second, quadratic hours.
TEST(LoopCut, StaysLinearOnALongChain) {
    constexpr std::uint32_t count = 100000;
    std::vector<PlainEdge> edges{{0, count - 1}};
    for (std::uint32_t i = 0; i + 1 < count; ++i) edges.push_back({i, i + 1});
    const auto start = std::chrono::steady_clock::now();
    const auto component = loop_components(count, edges);
    const auto found = on_every_loop(count, edges, 0, 1);
    EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(20));
    EXPECT_TRUE(std::ranges::all_of(component, [&](std::size_t number) { return number == component[0]; }));
    EXPECT_EQ(std::ranges::count(found, true), count - 2);
}

} // namespace
} // namespace trivet
