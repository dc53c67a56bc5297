#include "protection/faulted_circuit.h"

#include "circuit/paths.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr int most_collapses = 8;

// The end of a parameter at which most current flows.
bool at_high_end(const Branch& branch, std::uint32_t index) {
    switch (branch.kind) {
    case BranchKind::source:
        return index == 0;
    case BranchKind::converter:
        return index != 1; // all but the efficiency
    case BranchKind::load:
        return branch.behaviour != LoadBehaviour::resistance;
    default:
        return false;
    }
}

ParameterValues heaviest_values(const Circuit& circuit) {
    ParameterValues values(circuit.parameters.size());
    for (const Branch& branch : circuit.branches) {
        for (std::uint32_t i = 0; i < branch.parameters; ++i) {
            const Parameter& parameter = circuit.parameters[branch.first_parameter + i];
            values[branch.first_parameter + i] = at_high_end(branch, i) ? parameter.hi : parameter.lo;
        }
    }
    return values;
}

void make_conductor(Branch& branch, ParameterValues& values) {
    branch.kind = BranchKind::conductor;
    branch.driver.reset();
    branch.start_factor = 1.0;
    values[branch.first_parameter] = 0.0;
}

} // namespace

FaultedCircuit::FaultedCircuit(const Circuit& whole, const CircuitParts& split)
    : whole_(&whole)
    , split_(&split)
    , mark_(whole.branches.size()) {
    for (const CircuitPart& part : split.parts) heaviest_.push_back(heaviest_values(part.circuit));
}

void FaultedCircuit::apply(const FaultCase* fault, std::span<const BranchId> opened) {
    for (const BranchId id : marked_) mark_[id.value] = Mark::none;
    marked_.clear();
    const auto set = [&](BranchId id, Mark mark) {
        mark_[id.value] = mark;
        marked_.push_back(id);
    };
    for (const BranchId id : opened) set(id, Mark::removed);
    fault_ = fault;
    if (fault == nullptr) return;
    for (const BranchChange& change : fault->changes) {
        if (change.change == Change::opened) set(change.branch, Mark::removed);
        if (change.change == Change::closed) set(change.branch, Mark::closed);
        if (change.change == Change::shorted) set(change.branch, Mark::shorted);
    }
}

bool FaultedCircuit::is_closed(BranchId branch, const Positions& on) const {
    const Mark mark = mark_[branch.value];
    if (mark != Mark::none) return mark != Mark::removed;
    const Branch& asked = whole_->branches[branch.value];
    return !asked.driver || (on[asked.driver->value] != 0) != asked.rests_closed;
}

void FaultedCircuit::list_loops(std::uint32_t island, const Positions& on, bool weak, LoopEdges& edges) const {
    const CircuitPart& part = split_->parts[island];
    edges.clear();
    for (std::uint32_t own = 0; own < part.circuit.branches.size(); ++own) {
        const BranchId id = part.branch_of[own];
        const bool strong = carries_power(part.circuit.branches[own]) || mark_[id.value] == Mark::shorted;
        if ((weak || strong) && is_closed(id, on)) edges.add(part.circuit.branches[own], {own});
    }
    if (fault_ == nullptr) return;
    for (const Join& join : fault_->joins) {
        if (split_->part_of(*whole_, join.a) != island) continue;
        Branch conductor;
        conductor.kind = BranchKind::conductor;
        conductor.from = split_->own_node[join.a.value];
        conductor.to = split_->own_node[join.b.value];
        edges.add(conductor, no_branch);
    }
}

void FaultedCircuit::change(Circuit& circuit, ParameterValues& values, std::uint32_t island,
                            const CircuitPart& part) const {
    std::vector<BranchId>& listed = circuit.branches_of_island.front();
    std::erase_if(listed, [&](BranchId own) { return is_removed(part.branch_of[own.value]); });
    for (const BranchId id : marked_) {
        if (split_->part_of(*whole_, id) != island) continue;
        Branch& branch = circuit.branches[split_->own_branch[id.value].value];
        if (mark_[id.value] == Mark::closed) branch.driver.reset();
        if (mark_[id.value] == Mark::shorted) make_conductor(branch, values);
    }
    if (fault_ == nullptr) return;
    for (const BranchChange& scaled : fault_->changes) {
        if (scaled.change != Change::scaled || split_->part_of(*whole_, scaled.branch) != island) continue;
        const std::uint32_t first = circuit.branches[split_->own_branch[scaled.branch.value].value].first_parameter;
        values[first] *= scaled.factor;
        circuit.parameters[first].hi *= scaled.factor;
    }
    for (const Join& join : fault_->joins) {
        if (split_->part_of(*whole_, join.a) != island) continue;
        Branch conductor;
        conductor.kind = BranchKind::conductor;
        conductor.from = split_->own_node[join.a.value];
        conductor.to = split_->own_node[join.b.value];
        conductor.first_parameter = static_cast<std::uint32_t>(circuit.parameters.size());
        conductor.parameters = 1;
        circuit.parameters.push_back({});
        values.push_back(0.0);
        listed.push_back({static_cast<std::uint32_t>(circuit.branches.size())});
        circuit.branches.push_back(conductor);
    }
}

std::optional<FaultedPoint> FaultedCircuit::solve(std::uint32_t island, const Positions& on) {
    const CircuitPart& part = split_->parts[island];
    Circuit circuit = part.circuit;
    ParameterValues values = heaviest_[island];
    change(circuit, values, island, part);
    State state{{0}, {}};
    for (std::uint32_t i = 0; i < on.size(); ++i)
        if (on[i] != 0) state.on.push_back({i});
    FaultedPoint result;
    for (int i = 0; i < most_collapses; ++i) {
        auto solved = solve_dc(circuit, {0}, state, values);
        ++solutions_;
        if (solved) {
            result.point = std::move(*solved);
            return result;
        }
        const BranchId collapsed = solved.error().branch;
        const BranchKind kind = circuit.branches[collapsed.value].kind;
        if (kind != BranchKind::load && kind != BranchKind::converter) return std::nullopt;
        result.collapsed.push_back(part.branch_of[collapsed.value]);
        std::erase(circuit.branches_of_island.front(), collapsed);
    }
    return std::nullopt;
}

} // namespace trivet
