#include "thermal/heat_case.h"
#include "thermal/steady.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

std::vector<TwoPoint> all_stuck(std::vector<TwoPoint> controls) {
    for (TwoPoint& control : controls) control.stuck_on = true;
    return controls;
}

bool is_guarded(const HeatSource& source) { return !source.cutoffs.empty(); }

std::vector<Trip> trips_of(const HeatInputs& inputs) {
    std::vector<Trip> trips;
    for (const HeatCutoff& cutoff : inputs.cutoffs) trips.push_back(trip_of(cutoff));
    return trips;
}

bool any_passes(const HeatInputs& inputs, const std::vector<Temperature>& at) {
    return std::ranges::any_of(inputs.cutoffs, [&](const HeatCutoff& cutoff) {
        return works(cutoff) && at[cutoff.body->value] >= cutoff.trip->hi;
    });
}

void raise(std::vector<Temperature>& highest, const std::vector<Temperature>& to) {
    for (std::size_t i = 0; i < highest.size(); ++i) highest[i] = std::max(highest[i], to[i]);
}

// The strongest fault that no cutoff notices: all guarded sources at the same share of their power.
std::vector<Temperature> just_unnoticed(const HeatCase& heat, const HeatInputs& inputs) {
    std::vector<double> on(heat.network.sources.size(), 1.0);
    const auto at = [&](double share) {
        for (std::size_t i = 0; i < on.size(); ++i) on[i] = is_guarded(heat.network.sources[i]) ? share : 1.0;
        return steady_temperatures(heat.network, on);
    };
    double low = 0.0;
    double high = 1.0;
    auto found = at(0.0);
    for (int step = 0; step < 24 && high - low > 1e-5; ++step) {
        const double middle = 0.5 * (low + high);
        const auto here = at(middle);
        const bool noticed = !here || any_passes(inputs, *here);
        (noticed ? high : low) = middle;
        if (!noticed) found = here;
    }
    return found ? *found : heat.mean.temperatures;
}

// After the cutoffs that notice it have opened, what still heats may go on for ever.
std::optional<std::vector<Temperature>> left_after_trips(const HeatCase& heat, const HeatInputs& inputs) {
    std::vector<double> on(heat.network.sources.size(), 1.0);
    std::vector<bool> open(inputs.cutoffs.size(), false);
    while (true) {
        const auto here = steady_temperatures(heat.network, on);
        if (!here) return std::nullopt;
        bool changed = false;
        for (std::size_t i = 0; i < inputs.cutoffs.size(); ++i) {
            const HeatCutoff& cutoff = inputs.cutoffs[i];
            if (open[i] || !works(cutoff) || (*here)[cutoff.body->value] < cutoff.trip->hi) continue;
            open[i] = changed = true;
        }
        if (!changed) return *here;
        for (std::size_t i = 0; i < on.size(); ++i)
            if (std::ranges::any_of(heat.network.sources[i].cutoffs, [&](std::uint32_t c) { return open[c]; }))
                on[i] = 0.0;
    }
}

std::vector<Temperature> peaks_from(const HeatCase& heat, const HeatInputs& inputs, std::vector<Temperature> start) {
    RunSetup setup;
    setup.controls = all_stuck(heat.setup.controls);
    setup.cutoffs = trips_of(inputs);
    setup.start = std::move(start);
    setup.until = days_enough;
    setup.stop = until_nothing_rises();
    return simulate(heat.network, setup).highest;
}

} // namespace

Trip trip_of(const HeatCutoff& cutoff, bool counts) {
    const bool acts = counts && works(cutoff);
    return {.feels = {.body = acts ? cutoff.body->value : room, .lag = cutoff.lag},
            .opens = acts ? cutoff.trip->hi : Temperature{1e9},
            .closes = {}};
}

std::function<bool(Time, std::span<const double>)> until_nothing_rises() {
    constexpr double noticeable = 1e-6; // K/s: a quarter of a kelvin in three days
    return [before = std::vector<double>{}, then = Time{}](Time at, std::span<const double> now) mutable {
        const double least = noticeable * (at - then).si;
        bool rises = before.empty();
        for (std::size_t i = 0; i < before.size(); ++i) rises = rises || now[i] > before[i] + least;
        before.assign(now.begin(), now.end());
        then = at;
        return !rises;
    };
}

std::optional<std::vector<Temperature>> stuck_temperatures(const HeatCase& heat) {
    const std::vector<double> on(heat.network.sources.size(), 1.0);
    const auto found = steady_temperatures(heat.network, on);
    if (!found) return std::nullopt;
    return *found;
}

std::optional<std::vector<Temperature>> guarded_temperatures(const HeatCase& heat, const HeatInputs& inputs,
                                                             bool in_time) {
    const auto stuck = stuck_temperatures(heat);
    if (!stuck || !any_passes(inputs, *stuck)) return stuck;
    const auto left = left_after_trips(heat, inputs);
    if (!left || !in_time) return std::nullopt;
    std::vector<Temperature> highest = *left;
    raise(highest, just_unnoticed(heat, inputs));
    raise(highest, peaks_from(heat, inputs, {}));
    raise(highest, peaks_from(heat, inputs, heat.mean.temperatures));
    return highest;
}

} // namespace trivet
