#include "thermal/cycle.h"

#include "thermal/return_map.h"
#include "thermal/steady.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr Time very_long{30.0 * 86400.0};
constexpr double close_enough = 1e-3; // K

class CycleSearch {
public:
    CycleSearch(const ThermalNetwork& network, const RunSetup& setup)
        : network_(network)
        , setup_(setup)
        , mean_(mean_running(network, setup)) {
        setup_.start = mean_.temperatures;
        setup_.start_on.clear();
        setup_.felt.clear();
        for (std::uint32_t i = 0; i < setup.controls.size(); ++i) {
            const TwoPoint& control = setup.controls[i];
            setup_.start_on.push_back(mean_.duty[i] >= 1.0);
            setup_.felt.push_back(switches(i) ? middle(control) : mean_of(control.feels));
        }
        for (const Trip& cutoff : setup.cutoffs) setup_.felt.push_back(mean_of(cutoff.feels));
        setup_.until = very_long;
        setup_.stop = {};
    }

    std::vector<Cycle> find();

private:
    static Temperature middle(const TwoPoint& control) {
        return control.on_below + 0.5 * (control.off_above - control.on_below);
    }
    Temperature mean_of(const Feeler& feeler) const {
        return feeler.body == room ? network_.ambient : mean_.temperatures[feeler.body];
    }
    bool switches(std::uint32_t control) const { return mean_.duty[control] > 0.0 && mean_.duty[control] < 1.0; }

    Cycle resting(std::uint32_t control, double duty, const std::vector<Temperature>& temperatures) const;
    std::vector<Cycle> all_resting(const MeanRunning& state) const;
    std::optional<MeanRunning> where_it_stays(std::uint32_t control) const;
    std::vector<Cycle> around_one(std::uint32_t control, const Shot& shot) const;
    std::vector<Cycle> seen_together() const;
    Cycle seen(const Run& run, std::uint32_t control, double residual) const;
    double repetition(const Run& run, std::uint32_t control) const;

    const ThermalNetwork& network_;
    RunSetup setup_;
    MeanRunning mean_;
};

Cycle CycleSearch::resting(std::uint32_t control, double duty, const std::vector<Temperature>& temperatures) const {
    Cycle cycle;
    cycle.found = true;
    cycle.cycles = false;
    cycle.duty = duty;
    for (const HeatSource& source : network_.sources)
        if (source.control == control && std::isfinite(temperatures[source.body].si))
            cycle.mean_power = cycle.mean_power + duty * source_power(source, temperatures[source.body]).power;
    cycle.lowest = cycle.highest = temperatures;
    const std::uint32_t body = setup_.controls[control].feels.body;
    cycle.felt_lowest = cycle.felt_highest = body == room ? network_.ambient : temperatures[body];
    return cycle;
}

std::vector<Cycle> CycleSearch::all_resting(const MeanRunning& state) const {
    std::vector<Cycle> cycles;
    for (std::uint32_t i = 0; i < state.duty.size(); ++i)
        cycles.push_back(resting(i, state.duty[i], state.temperatures));
    return cycles;
}

// Where heating does not lead to the upper threshold or a pause not to the lower one, it stays on or off for ever.
std::optional<MeanRunning> CycleSearch::where_it_stays(std::uint32_t control) const {
    const TwoPoint& point = setup_.controls[control];
    MeanRunning state = mean_;
    for (const double duty : {1.0, 0.0}) {
        state.duty[control] = duty;
        std::vector<double> on;
        for (const HeatSource& source : network_.sources)
            on.push_back(source.control && *source.control < state.duty.size() ? state.duty[*source.control] : 1.0);
        const auto temperatures = steady_temperatures(network_, on);
        if (!temperatures) continue;
        const Temperature felt = (*temperatures)[point.feels.body];
        state.temperatures = *temperatures;
        if (duty == 1.0 ? felt <= point.off_above : felt >= point.on_below) return state;
    }
    return std::nullopt;
}

std::vector<Cycle> CycleSearch::around_one(std::uint32_t control, const Shot& shot) const {
    const Run& run = shot.run;
    std::vector<Cycle> cycles;
    for (std::uint32_t i = 0; i < setup_.controls.size(); ++i) {
        Cycle cycle = resting(i, mean_.duty[i], mean_.temperatures);
        cycle.found = shot.residual <= close_enough;
        cycle.residual = shot.residual;
        cycle.lowest = run.lowest;
        cycle.highest = run.highest;
        cycle.felt_lowest = run.felt_lowest[i];
        cycle.felt_highest = run.felt_highest[i];
        cycle.mean_power = run.supplied_by[i] / run.ended;
        if (i == control) {
            cycle.cycles = true;
            cycle.period = run.ended;
            cycle.on_time = run.switchings.front().at;
            cycle.duty = cycle.on_time.si / cycle.period.si;
        }
        cycles.push_back(std::move(cycle));
    }
    return cycles;
}

// How closely the temperatures at the last switchings on of a control come back after a few of them.
double CycleSearch::repetition(const Run& run, std::uint32_t control) const {
    constexpr std::size_t longest_pattern = 8;
    std::vector<std::size_t> rows;
    for (const Switching& switching : run.switchings) {
        if (switching.is_cutoff || !switching.closes || switching.which != control) continue;
        const auto at = std::ranges::lower_bound(run.times, switching.at);
        rows.push_back(static_cast<std::size_t>(at - run.times.begin()));
    }
    const std::size_t bodies = network_.bodies.size();
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t pattern = 1; pattern <= longest_pattern && 2 * pattern < rows.size(); ++pattern) {
        double largest = 0.0;
        for (std::size_t k = rows.size() - pattern; k < rows.size(); ++k)
            for (std::size_t i = 0; i < bodies; ++i)
                largest = std::max(largest, std::abs(run.temperatures[rows[k] * bodies + i].si -
                                                     run.temperatures[rows[k - pattern] * bodies + i].si));
        best = std::min(best, largest);
    }
    return best;
}

Cycle CycleSearch::seen(const Run& run, std::uint32_t control, double residual) const {
    std::vector<double> on_at;
    double on_time = 0.0;
    double pending = 0.0;
    for (const Switching& switching : run.switchings) {
        if (switching.is_cutoff || switching.which != control) continue;
        if (switching.closes) {
            on_time += pending;
            pending = 0.0;
            on_at.push_back(switching.at.si);
        } else if (!on_at.empty()) {
            pending = switching.at.si - on_at.back();
        }
    }
    Cycle cycle = resting(control, mean_.duty[control], mean_.temperatures);
    cycle.found = residual <= close_enough;
    cycle.residual = residual;
    cycle.lowest = run.lowest;
    cycle.highest = run.highest;
    cycle.felt_lowest = run.felt_lowest[control];
    cycle.felt_highest = run.felt_highest[control];
    cycle.cycles = on_at.size() > 1;
    if (run.ended.si > 0.0) cycle.mean_power = run.supplied_by[control] / run.ended;
    if (!cycle.cycles) {
        if (run.switchings.empty()) cycle.duty = run.on_end[control] ? 1.0 : 0.0;
        return cycle;
    }
    const auto cycles = static_cast<double>(on_at.size() - 1);
    cycle.period = {(on_at.back() - on_at.front()) / cycles};
    cycle.on_time = {on_time / cycles};
    cycle.duty = cycle.on_time.si / cycle.period.si;
    return cycle;
}

// Follows all controls from the average running on: first until they are used to each other, then for the record.
std::vector<Cycle> CycleSearch::seen_together() const {
    constexpr std::size_t switchings_each = 40;
    RunSetup setup = setup_;
    setup.most_switchings = switchings_each * setup.controls.size();
    const Run before = simulate(network_, setup);
    setup.start = before.end;
    setup.felt = before.felt_end;
    setup.start_on = before.on_end;
    setup.record = true;
    const Run run = simulate(network_, setup);
    double residual = std::numeric_limits<double>::infinity();
    for (std::uint32_t i = 0; i < setup.controls.size(); ++i) residual = std::min(residual, repetition(run, i));
    std::vector<Cycle> cycles;
    for (std::uint32_t i = 0; i < setup.controls.size(); ++i) cycles.push_back(seen(run, i, residual));
    return cycles;
}

std::vector<Cycle> CycleSearch::find() {
    std::vector<std::uint32_t> switching;
    for (std::uint32_t i = 0; i < setup_.controls.size(); ++i)
        if (switches(i)) switching.push_back(i);
    const bool finite = std::ranges::all_of(mean_.temperatures, [](Temperature t) { return std::isfinite(t.si); });
    if (switching.empty() || !finite) return all_resting(mean_);
    if (switching.size() > 1) return seen_together();
    const std::uint32_t control = switching.front();
    if (const auto stays = where_it_stays(control)) return all_resting(*stays);
    const auto shot = shoot(network_, setup_, control);
    return shot ? around_one(control, *shot) : seen_together();
}

} // namespace

std::vector<Cycle> periodic_running(const ThermalNetwork& network, const RunSetup& setup) {
    return CycleSearch(network, setup).find();
}

} // namespace trivet
