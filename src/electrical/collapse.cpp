#include "electrical/newton.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double unpowered_share = 1e-4; // of the knee: below that nothing feeds the load, so nothing collapses

double ratio(const NoOperatingPoint& found) { return found.demanded.si / std::max(found.available.si, 1e-12); }

} // namespace

std::optional<NoOperatingPoint> Solver::judge(std::uint32_t e, Conditions conditions) {
    const Edge& edge = network_.edges[e];
    const std::uint32_t own = network_.links[edge.first_link].branch;
    const IslandBranch& branch = island_->branches[own];
    conditions.removed = e;
    if (!solve(conditions, without_) || !linearise(conditions, without_)) return {};
    const double volts = equations_.across(without_, e);
    update_.assign(equations_.size(), 0.0);
    update_[equations_.current(e)] = 1.0;
    if (!lu_.solve(update_)) return {};
    const auto change = [&](std::uint32_t node) {
        return network_.junction[node] == nowhere ? 0.0 : update_[network_.junction[node]];
    };
    const double resistance = change(edge.to) - change(edge.from);
    const double* own_values = conditions.values + branch.first_parameter;
    double demanded = own_values[0] * (conditions.starting ? branch.start_factor : 1.0);
    if (edge.law == EdgeLaw::input) {
        const double delivered = std::max(without_.x[equations_.current(edge.partner)], 0.0);
        demanded = branch.topology == Topology::linear
                       ? volts * delivered
                       : own_values[0] * delivered / std::clamp(own_values[1], 0.01, 1.0);
        demanded += volts * own_values[2];
    }
    const double available = resistance > 0.0 ? volts * volts / (4.0 * resistance) : 0.0;
    return NoOperatingPoint{island_->branch_of[own], {demanded}, {available}, {volts}, {resistance}};
}

// What to name when nothing was found and nothing can be judged: the first branch that is no plain resistance.
BranchId Solver::first_unusual() const {
    for (const Edge& edge : network_.edges)
        if (!edge.linear && !edge.dead) return island_->branch_of[network_.links[edge.first_link].branch];
    return island_->branch_of.front();
}

std::optional<NoOperatingPoint> Solver::collapse(const Conditions& conditions, const Iterate& iterate, bool solved) {
    std::optional<NoOperatingPoint> worst;
    for (std::uint32_t e = 0; e < network_.edges.size(); ++e) {
        if (!can_collapse(e)) continue;
        const IslandBranch& branch = island_->branches[network_.links[network_.edges[e].first_link].branch];
        const double volts = std::abs(equations_.across(iterate, e));
        if (solved && (volts >= branch.knee || volts < unpowered_share * branch.knee)) continue;
        const auto found = judge(e, conditions);
        if (!found || (solved && found->demanded.si <= found->available.si)) continue;
        if (!worst || ratio(*found) > ratio(*worst)) worst = found;
    }
    if (!worst && !solved) worst = NoOperatingPoint{first_unusual(), {}, {}, {}, {}};
    return worst;
}

} // namespace trivet
