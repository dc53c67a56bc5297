#include "electrical/state_envelope.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double own_influence = 0.01; // of the current: a conductor that changes its own current by less is bounded

bool has_range(const Island& island, const IslandBranch& branch) {
    const auto begin = island.parameters.begin() + branch.first_parameter;
    return std::any_of(begin, begin + branch.parameters, [](const Parameter& p) { return p.hi > p.lo; });
}

bool is_conductor(BranchKind kind) {
    return kind == BranchKind::wire || kind == BranchKind::conductor || kind == BranchKind::fuse ||
           kind == BranchKind::cutoff || kind == BranchKind::contact;
}

} // namespace

void StateSearch::list_tracked() {
    using What = Tracked::What;
    const Network& network = solver_.network();
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
        const Edge& edge = network.edges[e];
        if (edge.dead) continue;
        tracked_.push_back({What::edge_current, e});
        if (edge.law != EdgeLaw::series) {
            tracked_.push_back({What::edge_voltage, e});
            continue;
        }
        for (std::uint32_t i = 0; i < edge.links; ++i) {
            // The voltage over a fixed resistance is extreme where its current is.
            const IslandBranch& branch = island_->branches[network.links[edge.first_link + i].branch];
            if (!is_linear(branch) || has_range(*island_, branch))
                tracked_.push_back({What::link_voltage, edge.first_link + i});
        }
    }
    for (std::uint32_t i = 0; i < island_->branches.size(); ++i)
        if (found_->closed[i] == 0) tracked_.push_back({What::open_switch, i});
    for (std::uint32_t i = 0; i < probes_->size(); ++i) tracked_.push_back({What::probe, i});
}

const std::vector<double>& StateSearch::sensitivity(const Tracked& tracked) {
    using What = Tracked::What;
    switch (tracked.what) {
    case What::edge_current:
        return sensitivity_.of_current(tracked.index);
    case What::edge_voltage:
        return sensitivity_.of_voltage(tracked.index);
    case What::link_voltage:
        return sensitivity_.of_link(tracked.index);
    case What::probe:
        return sensitivity_.of_nodes((*probes_)[tracked.index]);
    case What::open_switch:
        break;
    }
    const IslandBranch& branch = island_->branches[tracked.index];
    return sensitivity_.of_nodes({{branch.from, 1.0}, {branch.to, -1.0}});
}

double StateSearch::value(const Tracked& tracked) const {
    using What = Tracked::What;
    switch (tracked.what) {
    case What::edge_current:
        return here_.x[solver_.equations().current(tracked.index)];
    case What::edge_voltage:
        return solver_.equations().across(here_, tracked.index);
    case What::link_voltage:
        return sample_.voltage[solver_.network().links[tracked.index].branch];
    case What::open_switch:
        return sample_.voltage[tracked.index];
    case What::probe:
        break;
    }
    double volts = 0.0;
    for (const auto& [node, factor] : (*probes_)[tracked.index]) volts += factor * sample_.node_voltage[node];
    return volts;
}

// Most wires and contacts hardly influence their own current: the product of the highest current and the highest
// resistance then bounds their voltage closely enough to spare a corner for each.
bool StateSearch::is_bounded(const Tracked& tracked) {
    if (tracked.what != Tracked::What::link_voltage) return false;
    const Network& network = solver_.network();
    const std::uint32_t own = network.links[tracked.index].branch;
    const IslandBranch& branch = island_->branches[own];
    if (!is_conductor(branch.kind)) return false;
    const std::uint32_t edge = network.edge_of[tracked.index];
    const auto rank = std::ranges::lower_bound(island_->ranged, branch.first_parameter) - island_->ranged.begin();
    const double moved = sensitivity_.of_current(edge)[static_cast<std::size_t>(rank)];
    if (std::abs(moved) > own_influence * std::abs(here_.x[solver_.equations().current(edge)])) return false;
    bounded_.push_back(own);
    return true;
}

void StateSearch::bound_voltages() {
    for (const std::uint32_t own : bounded_) {
        const Parameter& resistance = island_->parameters[island_->branches[own].first_parameter];
        const LowHigh& current = found_->current[own];
        const Best lowest{current.lowest.value * (current.lowest.value < 0.0 ? resistance.hi : resistance.lo),
                          current.lowest.corner, true};
        const Best highest{current.highest.value * (current.highest.value > 0.0 ? resistance.hi : resistance.lo),
                           current.highest.corner, true};
        found_->voltage[own] = {lowest, highest};
    }
}

// Among corners with the same value the quantity's own one gives the best label.
void StateSearch::claim(const Wish& wish) {
    using What = Tracked::What;
    const Network& network = solver_.network();
    const Tracked& tracked = tracked_[wish.tracked];
    const auto take = [&](LowHigh& of, double value, bool highest) {
        Best& best = highest ? of.highest : of.lowest;
        if (!is_better(best.value, {value, 0, true}, highest ? 1.0 : -1.0)) best.corner = wish.corner;
    };
    if (tracked.what == What::probe) return take(found_->probe[tracked.index], value(tracked), wish.highest);
    if (tracked.what == What::open_switch) return take(found_->voltage[tracked.index], value(tracked), wish.highest);
    if (tracked.what == What::link_voltage) {
        const Link& link = network.links[tracked.index];
        const bool source = island_->branches[link.branch].kind == BranchKind::source;
        return take(found_->voltage[link.branch], sample_.voltage[link.branch], wish.highest != source);
    }
    const Edge& edge = network.edges[tracked.index];
    const std::uint32_t own = network.links[edge.first_link].branch;
    if (tracked.what == What::edge_voltage) {
        if (edge.law == EdgeLaw::output)
            take(found_->output_voltage[own], sample_.output_voltage[own], !wish.highest);
        else
            take(found_->voltage[own], sample_.voltage[own], wish.highest);
        return;
    }
    if (edge.law == EdgeLaw::output)
        return take(found_->output_current[own], sample_.output_current[own], wish.highest);
    for (std::uint32_t i = 0; i < edge.links; ++i) {
        const Link& link = network.links[edge.first_link + i];
        take(found_->current[link.branch], sample_.current[link.branch], wish.highest == (link.sign > 0.0));
    }
}

} // namespace trivet
