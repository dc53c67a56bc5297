#include "electrical/state_envelope.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double same = 1e-12; // relative: a corner that is better by less gives only another name to the same value
// Each re-check can only improve a value; in practice the second already finds nothing.
constexpr std::size_t most_corners_per_wish = 4;

} // namespace

bool is_better(double value, const Best& best, double direction) {
    return !best.taken || direction * (value - best.value) > same * std::abs(best.value);
}

void LowHigh::include(double value, std::uint32_t corner) {
    if (is_better(value, lowest, -1.0)) lowest = {value, corner, true};
    if (is_better(value, highest, 1.0)) highest = {value, corner, true};
}

void StateSearch::run(const Circuit& circuit, const Island& island, const State& state,
                      const std::vector<ProbeTerms>& probes, std::size_t grouped_above, StateExtremes& found) {
    island_ = &island;
    probes_ = &probes;
    found_ = &found;
    solver_.prepare(island, state, circuit);
    found.closed = solver_.closed();
    for (auto* of :
         {&found.current, &found.voltage, &found.output_current, &found.output_voltage, &found.start_current})
        of->assign(island.branches.size(), {});
    found.probe.assign(probes.size(), {});
    found.corners.clear(island.ranged.size());
    tracked_.clear();
    wishes_.clear();
    bounded_.clear();
    found.collapses.clear();
    found.kirchhoff_residual = 0.0;
    found.solutions = 0;
    found.is_bound = island.ranged.size() > grouped_above;
    middle_values_ = island.middle();
    values_ = middle_values_;
    conditions_ = {};
    conditions_.values = values_.data();
    middle_solved_ = false;
    middle_solved_ = solve(any_corner, false);
    found.middle_solved = middle_solved_;
    found.middle_voltage.assign(island.branches.size(), 0.0);
    if (middle_solved_) {
        middle_ = here_;
        include(any_corner);
        found.middle_voltage = sample_.voltage;
    }
    if (!island.ranged.empty()) {
        if (found.is_bound || !middle_solved_)
            add_grouped_corners(island, found.corners);
        else
            wish_at_middle();
        solve_wishes();
        bound_voltages();
    }
    solve_starting();
}

// Sets `here_` and `sample_`; records a collapse and returns false if there is no operating point.
bool StateSearch::solve(std::uint32_t corner, bool starting) {
    values_ = middle_values_;
    if (corner != any_corner)
        for (std::size_t i = 0; i < island_->ranged.size(); ++i) {
            const Parameter& parameter = island_->parameters[island_->ranged[i]];
            values_[island_->ranged[i]] = found_->corners.high(corner, i) ? parameter.hi : parameter.lo;
        }
    conditions_.values = values_.data();
    conditions_.starting = starting;
    const bool warm = middle_solved_ && !starting;
    if (warm) here_ = middle_;
    ++found_->solutions;
    bool solved = solver_.solve(conditions_, here_, warm);
    if (!solved && warm) solved = solver_.solve(conditions_, here_);
    const double residual = solver_.equations().kirchhoff_residual();
    const auto collapse = solver_.collapse(conditions_, here_, solved);
    if (collapse) {
        record(*collapse, corner);
        return false;
    }
    found_->kirchhoff_residual = std::max(found_->kirchhoff_residual, residual);
    read_sample(solver_, conditions_, here_, sample_);
    return true;
}

void StateSearch::record(const NoOperatingPoint& why, std::uint32_t corner) {
    const auto known =
        std::ranges::find_if(found_->collapses, [&](const auto& c) { return c.why.branch == why.branch; });
    if (known == found_->collapses.end())
        found_->collapses.push_back({why, corner});
    else if (why.demanded.si * known->why.available.si > known->why.demanded.si * why.available.si)
        *known = {why, corner};
}

void StateSearch::include(std::uint32_t corner) {
    for (std::size_t i = 0; i < island_->branches.size(); ++i) {
        found_->current[i].include(sample_.current[i], corner);
        found_->voltage[i].include(sample_.voltage[i], corner);
        if (island_->branches[i].kind != BranchKind::converter) continue;
        found_->output_current[i].include(sample_.output_current[i], corner);
        found_->output_voltage[i].include(sample_.output_voltage[i], corner);
    }
    for (std::size_t i = 0; i < probes_->size(); ++i) {
        double volts = 0.0;
        for (const auto& [node, factor] : (*probes_)[i]) volts += factor * sample_.node_voltage[node];
        found_->probe[i].include(volts, corner);
    }
}

void StateSearch::wish_at_middle() {
    list_tracked();
    if (!solver_.linearise(conditions_, here_)) return;
    sensitivity_.at(solver_, conditions_, here_);
    for (std::uint32_t i = 0; i < tracked_.size(); ++i) {
        if (is_bounded(tracked_[i])) continue;
        const std::vector<double>& moved = sensitivity(tracked_[i]);
        for (const bool highest : {true, false}) {
            const std::uint32_t corner = found_->corners.find(moved, value(tracked_[i]), highest, 0);
            if (corner != nowhere) wishes_.push_back({i, corner, highest});
        }
    }
    // A current that falls with the voltage in one load and rises with it in another has its highest value at either
    // end.
    if (!solver_.network().linear)
        for (const bool sources_high : {false, true}) add_heaviest_corner(*island_, sources_high, found_->corners);
}

void StateSearch::solve_wishes() {
    const std::size_t most = most_corners_per_wish * (tracked_.size() + 8);
    for (std::uint32_t corner = 0; corner < found_->corners.count() && corner < most; ++corner) {
        if (!solve(corner, false)) continue;
        include(corner);
        if (!found_->is_bound && middle_solved_) check_signs(corner);
    }
}

// A sensitivity can change its sign on the way from the middle to the corner; then another corner is the extreme.
void StateSearch::check_signs(std::uint32_t corner) {
    bool linearised = false;
    const std::size_t known = wishes_.size();
    for (std::size_t i = 0; i < known; ++i) {
        const Wish wish = wishes_[i];
        if (wish.corner != corner) continue;
        claim(wish);
        if (!linearised) {
            if (!solver_.linearise(conditions_, here_)) return;
            sensitivity_.at(solver_, conditions_, here_);
            linearised = true;
        }
        const Tracked& tracked = tracked_[wish.tracked];
        const std::uint32_t next = found_->corners.find(sensitivity(tracked), value(tracked), wish.highest, corner + 1);
        if (next != nowhere && next > corner) wishes_.push_back({wish.tracked, next, wish.highest});
    }
}

void StateSearch::solve_starting() {
    const Network& network = solver_.network();
    bool surges = false;
    std::uint32_t busiest = any_corner;
    double most = 0.0;
    for (std::uint32_t i = 0; i < island_->branches.size(); ++i) {
        found_->start_current[i] = found_->current[i];
        const IslandBranch& branch = island_->branches[i];
        surges = surges || (branch.start_factor != 1.0 && network.link_of[i] != nowhere);
        const Best& drawn = found_->current[i].highest;
        if (branch.kind != BranchKind::source || !drawn.taken || drawn.value <= most) continue;
        most = drawn.value;
        busiest = drawn.corner;
    }
    if (!surges) return;
    const auto start = [&](std::uint32_t corner) {
        if (!solve(corner, true)) return;
        for (std::size_t i = 0; i < island_->branches.size(); ++i)
            found_->start_current[i].include(sample_.current[i], corner);
    };
    start(busiest);
    if (!island_->ranged.empty()) start(add_heaviest_corner(*island_, true, found_->corners));
}

} // namespace trivet
