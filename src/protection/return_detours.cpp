#include "protection/return_detours.h"

#include "circuit/paths.h"
#include "circuit/union_find.h"
#include "protection/faulted_circuit.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double least_share = 0.05; // common practice, no source: less is lost among the other currents of a wire

bool joins_points(const Branch& branch) {
    return carries_power(branch) && branch.kind != BranchKind::source && branch.kind != BranchKind::converter;
}

// Wires between the loads and the minus side of a supply or converter, that have a way around them on that side.
std::vector<BranchId> return_wires(const CircuitPart& part) {
    const Circuit& circuit = part.circuit;
    UnionFind sides(circuit.node_count);
    LoopEdges edges;
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.kind == BranchKind::converter) sides.join(branch.to.value, branch.output_to.value);
        if (!joins_points(branch)) continue;
        sides.join(branch.from.value, branch.to.value);
        edges.add(branch, {i});
    }
    BlockForest forest;
    forest.build(circuit.node_count, edges.edges, edges.is_source);
    std::vector<std::size_t> edges_in_block(edges.edges.size());
    for (const PlainEdge& edge : edges.edges)
        if (edge.a != edge.b) ++edges_in_block[forest.block_of(edge)];
    std::vector<char> is_minus(circuit.node_count);
    for (const Branch& branch : circuit.branches) {
        if (branch.kind == BranchKind::source) is_minus[sides.find(branch.to.value)] = 1;
        if (branch.kind == BranchKind::converter) is_minus[sides.find(branch.output_to.value)] = 1;
    }
    std::vector<BranchId> found;
    for (std::size_t e = 0; e < edges.edges.size(); ++e) {
        const Branch& branch = circuit.branches[edges.branch[e].value];
        const PlainEdge& edge = edges.edges[e];
        if (branch.kind == BranchKind::wire && edge.a != edge.b && edges_in_block[forest.block_of(edge)] > 1 &&
            is_minus[sides.find(edge.a)] != 0)
            found.push_back(edges.branch[e]);
    }
    return found;
}

Positions everything_on(const Circuit& circuit) {
    Positions on(circuit.drivers.size(), 1);
    std::vector<char> has_resting_open(on.size());
    for (const Branch& branch : circuit.branches)
        if (branch.driver && !branch.rests_closed) has_resting_open[branch.driver->value] = 1;
    for (std::size_t i = 0; i < on.size(); ++i) on[i] = has_resting_open[i];
    return on;
}

class DetourSearch {
public:
    explicit DetourSearch(const Circuit& circuit)
        : split_(split_by_island(circuit))
        , faulted_(circuit, split_)
        , on_(everything_on(circuit)) {}

    void run(const Circuit& circuit, std::vector<ReturnDetour>& found) {
        for (std::uint32_t island = 0; island < split_.parts.size(); ++island) {
            const CircuitPart& part = split_.parts[island];
            const auto is_heater = [](const Branch& branch) { return branch.kind == BranchKind::heater; };
            if (std::ranges::none_of(part.circuit.branches, is_heater)) continue;
            const std::vector<BranchId> wires = return_wires(part);
            faulted_.apply(nullptr, {});
            const auto sound = wires.empty() ? std::nullopt : faulted_.solve(island, on_);
            if (!sound) continue;
            double largest = 0.0;
            for (std::size_t i = 0; i < part.circuit.branches.size(); ++i)
                if (is_heater(part.circuit.branches[i]))
                    largest = std::max(largest, std::abs(sound->point.branch_current[i]));
            look_without_each_heater(island, sound->point);
            for (const BranchId own : wires) open(circuit, island, own, sound->point, largest, found);
        }
    }

private:
    // What the island's wires carry with one heater off: the difference is the heater's own current.
    void look_without_each_heater(std::uint32_t island, const OperatingPoint& sound) {
        const CircuitPart& part = split_.parts[island];
        without_.assign(part.branch_of.size(), {});
        for (std::uint32_t i = 0; i < part.branch_of.size(); ++i) {
            if (part.circuit.branches[i].kind != BranchKind::heater || sound.branch_current[i] == 0.0) continue;
            FaultCase fault;
            fault.changes.push_back({part.branch_of[i], Change::opened, 1.0});
            faulted_.apply(&fault, {});
            if (const auto solved = faulted_.solve(island, on_)) without_[i] = solved->point.branch_current;
        }
    }

    bool passes(std::uint32_t heater, BranchId wire, const OperatingPoint& sound) const {
        if (without_[heater].empty()) return true;
        return std::abs(sound.branch_current[wire.value] - without_[heater][wire.value]) >=
               least_share * std::abs(sound.branch_current[heater]);
    }

    void open(const Circuit& circuit, std::uint32_t island, BranchId own, const OperatingPoint& sound, double largest,
              std::vector<ReturnDetour>& found) {
        const CircuitPart& part = split_.parts[island];
        FaultCase fault;
        fault.changes.push_back({part.branch_of[own.value], Change::opened, 1.0});
        faulted_.apply(&fault, {});
        const auto opened = faulted_.solve(island, on_);
        if (!opened) return;
        ReturnDetour detour;
        detour.opened = part.circuit.branches[own.value].wire;
        detour.carried = std::abs(sound.branch_current[own.value]);
        for (std::uint32_t i = 0; i < part.branch_of.size(); ++i) {
            const double before = std::abs(sound.branch_current[i]);
            const double after = std::abs(opened->point.branch_current[i]);
            if (circuit.branches[part.branch_of[i].value].kind == BranchKind::heater) {
                if (after > least_share * largest && passes(i, own, sound)) detour.heaters.push_back(part.branch_of[i]);
            } else if (after - before >= least_share * largest && largest > 0.0) {
                detour.detours.push_back({part.branch_of[i], before, after});
            }
        }
        if (!detour.detours.empty() && !detour.heaters.empty()) found.push_back(std::move(detour));
    }

    CircuitParts split_;
    FaultedCircuit faulted_;
    Positions on_;
    std::vector<std::vector<double>> without_; // [own branch]: currents with that heater off
};

} // namespace

std::vector<ReturnDetour> return_detours(const Circuit& circuit) {
    std::vector<ReturnDetour> found;
    DetourSearch(circuit).run(circuit, found);
    std::ranges::stable_sort(found, {}, &ReturnDetour::opened);
    return found;
}

} // namespace trivet
