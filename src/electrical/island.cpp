#include "electrical/island.h"

#include <algorithm>

namespace trivet {

namespace {

// Common practice, no source: electronics stop regulating well below their working voltage.
constexpr double knee_share = 0.3;
constexpr double constant_current_knee = 0.5; // V
// Two diode-like voltages of 25.85 mV at 300 K: what silicon rectifiers show at their rated current.
constexpr double rectifier_slope_voltage = 0.05;
// A forward voltage of 14 slopes leaves a reverse current below a millionth of the rated one.
constexpr double slopes_of_forward_voltage = 14.0;

double highest_source_voltage(const Circuit& circuit, const std::vector<BranchId>& branches) {
    double highest = 0.0;
    for (const BranchId id : branches) {
        const Branch& branch = circuit.branches[id.value];
        if (branch.kind == BranchKind::source)
            highest = std::max(highest, circuit.parameters[branch.first_parameter].hi);
    }
    return highest;
}

void set_knee(IslandBranch& own, const Branch& branch, double highest_source, const Parameter* parameters) {
    const double fallback = std::max(highest_source, 1.0);
    if (own.kind == BranchKind::converter)
        own.knee = branch.working_voltage > 0.0 ? branch.working_voltage : knee_share * fallback;
    if (own.kind == BranchKind::load) {
        own.nominal = branch.working_voltage > 0.0 ? branch.working_voltage : fallback;
        own.knee = own.behaviour == LoadBehaviour::constant_current ? constant_current_knee : knee_share * own.nominal;
    }
    if (own.kind == BranchKind::diode) {
        const double forward = 0.5 * (parameters->lo + parameters->hi);
        own.slope_voltage = std::clamp(forward / slopes_of_forward_voltage, 1e-5, rectifier_slope_voltage);
    }
}

} // namespace

std::uint32_t NodeNumbers::number(NodeId node, Island& island) {
    std::uint32_t& known = number_[node.value];
    if (known == nowhere) {
        known = static_cast<std::uint32_t>(island.node_of.size());
        island.node_of.push_back(node);
        used_.push_back(node);
    }
    return known;
}

Island NodeNumbers::make(const Circuit& circuit, IslandId id) {
    for (const NodeId node : used_) number_[node.value] = nowhere;
    used_.clear();
    Island island;
    island.id = id;
    const auto& branches = circuit.branches_of_island[id.value];
    const double highest_source = highest_source_voltage(circuit, branches);
    island.branch_of = branches;
    for (const BranchId branch_id : branches) {
        const Branch& branch = circuit.branches[branch_id.value];
        IslandBranch own;
        own.kind = branch.kind;
        own.behaviour = branch.behaviour;
        own.topology = branch.topology;
        own.from = number(branch.from, island);
        own.to = number(branch.to, island);
        if (branch.kind == BranchKind::converter) {
            own.output_from = number(branch.output_from, island);
            own.output_to = number(branch.output_to, island);
        }
        own.first_parameter = static_cast<std::uint32_t>(island.parameters.size());
        own.parameters = branch.parameters;
        own.start_factor = std::max(branch.start_factor, 1e-3);
        own.dropout = branch.dropout;
        own.rated_current = branch.rated_current > 0.0 ? branch.rated_current : 1.0;
        set_knee(own, branch, highest_source, circuit.parameters.data() + branch.first_parameter);
        for (std::uint32_t i = 0; i < branch.parameters; ++i) {
            const Parameter& parameter = circuit.parameters[branch.first_parameter + i];
            if (parameter.hi > parameter.lo) island.ranged.push_back(own.first_parameter + i);
            island.parameter_of.push_back(branch.first_parameter + i);
            island.parameters.push_back(parameter);
            island.branch_of_parameter.push_back(static_cast<std::uint32_t>(island.branches.size()));
        }
        island.branches.push_back(own);
    }
    return island;
}

std::vector<double> Island::values(const std::vector<double>& of_circuit) const {
    std::vector<double> own(parameter_of.size());
    std::ranges::transform(parameter_of, own.begin(), [&](std::uint32_t index) { return of_circuit[index]; });
    return own;
}

std::vector<double> Island::middle() const {
    std::vector<double> own(parameters.size());
    std::ranges::transform(parameters, own.begin(), [](const Parameter& p) { return 0.5 * (p.lo + p.hi); });
    return own;
}

} // namespace trivet
