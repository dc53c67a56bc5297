#include "electrical/network.h"

#include <algorithm>

namespace trivet {

namespace {

// One end of a closed branch (or of one side of a converter) at a node.
struct Half {
    std::uint32_t branch;
    std::uint32_t other;
    EdgeLaw side;
    double sign;
};

class Reduction {
public:
    Reduction(const Island& island, const std::vector<char>& closed, Network& network)
        : island_(island)
        , closed_(closed)
        , network_(network) {}

    void run() {
        list_halves();
        choose_references();
        choose_junctions();
        network_.link_of.assign(island_.branches.size(), nowhere);
        network_.output_edge.assign(island_.branches.size(), nowhere);
        for (std::uint32_t node = 0; node < island_.node_of.size(); ++node) {
            const NodeRole role = network_.role[node];
            if (role == NodeRole::reference || role == NodeRole::junction) add_edges_from(node);
        }
        pair_converters();
    }

private:
    template <class Visit> void each_pair(Visit visit) const {
        for (std::uint32_t i = 0; i < island_.branches.size(); ++i) {
            const IslandBranch& branch = island_.branches[i];
            if (closed_[i] == 0) continue;
            if (branch.kind == BranchKind::converter) {
                if (branch.from != branch.to) visit(i, branch.from, branch.to, EdgeLaw::input);
                if (branch.output_from != branch.output_to)
                    visit(i, branch.output_to, branch.output_from, EdgeLaw::output);
            } else if (branch.from != branch.to) {
                const bool source = branch.kind == BranchKind::source;
                visit(i, source ? branch.to : branch.from, source ? branch.from : branch.to,
                      drops_by_current(branch) ? EdgeLaw::series : EdgeLaw::shunt);
            }
        }
    }

    void list_halves() {
        first_.assign(island_.node_of.size() + 1, 0);
        each_pair([&](std::uint32_t, std::uint32_t a, std::uint32_t b, EdgeLaw) {
            ++first_[a + 1];
            ++first_[b + 1];
        });
        for (std::size_t i = 1; i < first_.size(); ++i) first_[i] += first_[i - 1];
        halves_.resize(first_.back());
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        each_pair([&](std::uint32_t i, std::uint32_t a, std::uint32_t b, EdgeLaw side) {
            halves_[next[a]++] = {i, b, side, 1.0};
            halves_[next[b]++] = {i, a, side, -1.0};
        });
    }

    void refer_to(std::uint32_t start) {
        if (network_.role[start] != NodeRole::excluded) return;
        network_.role[start] = NodeRole::reference;
        queue_.assign(1, start);
        while (!queue_.empty()) {
            const std::uint32_t here = queue_.back();
            queue_.pop_back();
            for (std::uint32_t h = first_[here]; h < first_[here + 1]; ++h) {
                NodeRole& role = network_.role[halves_[h].other];
                if (role != NodeRole::excluded) continue;
                role = NodeRole::junction;
                queue_.push_back(halves_[h].other);
            }
        }
    }

    void choose_references() {
        network_.role.assign(island_.node_of.size(), NodeRole::excluded);
        for (std::uint32_t i = 0; i < island_.branches.size(); ++i)
            if (island_.branches[i].kind == BranchKind::source && closed_[i] != 0) refer_to(island_.branches[i].to);
        for (const IslandBranch& branch : island_.branches)
            if (branch.kind == BranchKind::converter) refer_to(branch.output_to);
    }

    void choose_junctions() {
        network_.junction.assign(island_.node_of.size(), nowhere);
        network_.link_before.assign(island_.node_of.size(), nowhere);
        network_.junctions = 0;
        for (std::uint32_t node = 0; node < island_.node_of.size(); ++node) {
            if (network_.role[node] != NodeRole::junction) continue;
            const std::uint32_t begin = first_[node];
            const bool in_chain = first_[node + 1] - begin == 2 && halves_[begin].side == EdgeLaw::series &&
                                  halves_[begin + 1].side == EdgeLaw::series;
            if (in_chain)
                network_.role[node] = NodeRole::interior;
            else
                network_.junction[node] = network_.junctions++;
        }
    }

    void add_edges_from(std::uint32_t node) {
        for (std::uint32_t h = first_[node]; h < first_[node + 1]; ++h) {
            const Half& half = halves_[h];
            const bool output = half.side == EdgeLaw::output;
            if (half.side != EdgeLaw::series && half.sign < 0.0) continue;
            if (!output && network_.link_of[half.branch] != nowhere) continue;
            follow(node, half);
        }
    }

    void follow(std::uint32_t start, Half half) {
        const auto edge_number = static_cast<std::uint32_t>(network_.edges.size());
        Edge edge{.law = half.side, .from = start, .to = half.other};
        edge.first_link = static_cast<std::uint32_t>(network_.links.size());
        while (true) {
            const IslandBranch& branch = island_.branches[half.branch];
            if (half.side == EdgeLaw::output)
                network_.output_edge[half.branch] = edge_number;
            else
                network_.link_of[half.branch] = static_cast<std::uint32_t>(network_.links.size());
            if (network_.role[half.other] == NodeRole::interior)
                network_.link_before[half.other] = static_cast<std::uint32_t>(network_.links.size());
            network_.links.push_back({half.branch, half.other, half.sign});
            network_.edge_of.push_back(edge_number);
            ++edge.links;
            edge.linear = edge.linear && is_linear(branch) && half.side == EdgeLaw::series;
            edge.to = half.other;
            if (network_.role[half.other] != NodeRole::interior) break;
            const std::uint32_t begin = first_[half.other];
            half = halves_[begin].branch == half.branch ? halves_[begin + 1] : halves_[begin];
        }
        network_.edges.push_back(edge);
    }

    void pair_converters() {
        for (std::uint32_t i = 0; i < island_.branches.size(); ++i) {
            const std::uint32_t output = network_.output_edge[i];
            if (output == nowhere || network_.link_of[i] == nowhere) continue;
            const std::uint32_t input = network_.edge_of[network_.link_of[i]];
            network_.edges[input].partner = output;
            network_.edges[output].partner = input;
        }
    }

    const Island& island_;
    const std::vector<char>& closed_;
    Network& network_;
    std::vector<std::uint32_t> first_; // [node]: into halves_
    std::vector<Half> halves_;
    std::vector<std::uint32_t> queue_;
};

} // namespace

void reduce(const Island& island, const std::vector<char>& closed, Network& network) {
    network.edges.clear();
    network.links.clear();
    network.edge_of.clear();
    Reduction(island, closed, network).run();
    mark_dead(island, network);
    network.linear = true;
    for (const Edge& edge : network.edges) network.linear = network.linear && (edge.linear || edge.dead);
}

} // namespace trivet
