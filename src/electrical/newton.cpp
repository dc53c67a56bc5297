#include "electrical/newton.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr int most_iterations = 120;
constexpr int period = 15;
constexpr int patience = 16; // from then on a load seen below its knee stays below

// Full steps as long as they lead somewhere. Where laws have a kink they can go round in circles; a stretch of shorter
// ones gets out of that.
double damping(int iteration) {
    const int stretch = iteration / period;
    return stretch % 2 == 0 ? 1.0 : stretch == 1 ? 0.5 : 0.25;
}

// Junction-voltage limiting (L. W. Nagel 1975, memorandum ERL-M520): a step up the exponential is taken on the
// logarithm of the current instead.
double limited(double wanted, double last, double forward, const IslandBranch& diode) {
    const double slope_voltage = diode.slope_voltage;
    const double critical = forward + slope_voltage * std::log(slope_voltage / (std::sqrt(2.0) * diode.rated_current));
    if (wanted <= critical || std::abs(wanted - last) <= 2.0 * slope_voltage) return wanted;
    if (last <= 0.0) return slope_voltage * std::max(std::log(wanted / slope_voltage), 0.0);
    const double argument = 1.0 + (wanted - last) / slope_voltage;
    return argument > 0.0 ? last + slope_voltage * std::log(argument) : critical;
}

} // namespace

void Solver::prepare(const Island& island, const State& state, const Circuit& circuit) {
    island_ = &island;
    closed_.resize(island.branches.size());
    for (std::size_t i = 0; i < closed_.size(); ++i)
        closed_[i] = is_closed(circuit.branches[island.branch_of[i].value], state) ? 1 : 0;
    reduce(island, closed_, network_);
    equations_.build(island, network_);
    if (equations_.size() > 0) lu_.analyse(equations_.column_start(), equations_.row());
}

void Solver::begin(const Conditions& conditions, Iterate& iterate) {
    iterate.x.assign(equations_.size(), 0.0);
    iterate.at.assign(network_.edges.size(), 0.0);
    iterate.collapsed.assign(network_.edges.size(), 0);
    for (std::uint32_t e = 0; e < network_.edges.size(); ++e) {
        const IslandBranch& branch = island_->branches[network_.links[network_.edges[e].first_link].branch];
        if (branch.kind == BranchKind::diode) iterate.at[e] = conditions.values[branch.first_parameter];
    }
}

bool Solver::step(Iterate& iterate, bool new_pivots, double share) {
    if (!lu_.factor(equations_.matrix(), new_pivots)) return false;
    update_ = equations_.residual();
    if (!lu_.solve(update_)) return false;
    bool finite = true;
    for (std::size_t i = 0; i < update_.size(); ++i) {
        iterate.x[i] -= share * update_[i];
        finite = finite && std::isfinite(iterate.x[i]);
    }
    return finite;
}

bool Solver::can_collapse(std::uint32_t e) const {
    const Edge& edge = network_.edges[e];
    if (edge.dead) return false;
    if (edge.law == EdgeLaw::input) return edge.partner != nowhere;
    const IslandBranch& branch = island_->branches[network_.links[edge.first_link].branch];
    return edge.law == EdgeLaw::shunt && branch.kind == BranchKind::load &&
           branch.behaviour == LoadBehaviour::constant_power;
}

void Solver::move_linearisation(Iterate& iterate, const double* values, bool hold_collapsed) {
    for (std::uint32_t e = 0; e < network_.edges.size(); ++e) {
        const Edge& edge = network_.edges[e];
        if (edge.law == EdgeLaw::series && !edge.linear) {
            // A current that turns round has to pass the steep part of the fixed drops first.
            const double amperes = iterate.x[equations_.current(e)];
            iterate.at[e] = iterate.at[e] * amperes < 0.0 ? 0.0 : amperes;
        }
        if (edge.law != EdgeLaw::shunt && edge.law != EdgeLaw::input) continue;
        const IslandBranch& branch = island_->branches[network_.links[edge.first_link].branch];
        const double volts = equations_.across(iterate, e);
        double& at = iterate.at[e];
        at = branch.kind == BranchKind::diode ? limited(volts, at, values[branch.first_parameter], branch) : volts;
        if (hold_collapsed && can_collapse(e) && std::abs(volts) < branch.knee) iterate.collapsed[e] = 1;
    }
}

bool Solver::solve(const Conditions& conditions, Iterate& iterate, bool warm) {
    iterations_ = 0;
    if (equations_.size() == 0) {
        begin(conditions, iterate);
        return true;
    }
    if (!warm) {
        begin(conditions, iterate);
        if (!network_.linear) {
            Conditions first = conditions;
            first.unloaded = true;
            equations_.assemble(iterate, first);
            if (!step(iterate, false, 1.0)) return false;
            move_linearisation(iterate, conditions.values, false);
        }
    }
    bool new_pivots = false;
    for (; iterations_ < most_iterations; ++iterations_) {
        equations_.assemble(iterate, conditions);
        if (equations_.within_tolerance()) return true;
        if (!step(iterate, new_pivots, network_.linear ? 1.0 : damping(iterations_))) {
            if (new_pivots) return false;
            new_pivots = true;
            begin(conditions, iterate);
            continue;
        }
        move_linearisation(iterate, conditions.values, iterations_ >= patience);
        // A linear network that one step did not solve was factored with outworn pivots.
        new_pivots = network_.linear;
    }
    return false;
}

bool Solver::linearise(const Conditions& conditions, const Iterate& iterate) {
    if (equations_.size() == 0) return true;
    equations_.assemble(iterate, conditions);
    return lu_.factor(equations_.matrix());
}

} // namespace trivet
