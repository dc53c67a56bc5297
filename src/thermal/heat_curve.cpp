#include "thermal/heat_curve.h"

#include "thermal/curve_read.h"
#include "thermal/curve_span.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr TemperatureDifference held_within{0.5}; // by a proportional control
constexpr TemperatureDifference as_good_as{0.1};
constexpr Temperature never{1e9};

bool works(const HeatCutoff& cutoff) { return cutoff.body && cutoff.trip; }

bool contains(const std::vector<std::uint32_t>& list, std::uint32_t value) {
    return std::ranges::find(list, value) != list.end();
}

Trip trip_of(const HeatCutoff& cutoff, bool with_cutoffs, bool runaway) {
    Trip trip{
        .feels = {.body = cutoff.body ? cutoff.body->value : room, .lag = cutoff.lag}, .opens = never, .closes = {}};
    if (!with_cutoffs || !works(cutoff)) return trip;
    trip.opens = runaway ? cutoff.trip->hi : cutoff.trip->lo;
    if (!cutoff.resets_itself) return trip;
    // Nobody stated when it closes: at once, which keeps the heat up longest.
    const Temperature closest = trip.opens - TemperatureDifference{1.0};
    trip.closes = cutoff.reset ? std::min(cutoff.reset->hi, closest) : closest;
    return trip;
}

RunSetup curve_setup(const Design& design, const HeatInputs& inputs, const CurveChoice& choice) {
    RunSetup setup = control_setup(inputs, choice.situation, choice.extreme);
    const auto stuck = choice.stuck ? controls_of_switch(design, inputs, *choice.stuck) : std::vector<std::uint32_t>{};
    bool runaway = choice.stuck.has_value();
    for (std::uint32_t i = 0; i < setup.controls.size(); ++i) {
        TwoPoint& control = setup.controls[i];
        control.stuck_on = contains(stuck, i);
        runaway = runaway || control.feels.body == room;
        if (!inputs.controls[i].proportional) continue;
        const Temperature middle = control.on_below + 0.5 * (control.off_above - control.on_below);
        control.on_below = middle - 0.5 * held_within;
        control.off_above = middle + 0.5 * held_within;
        control.feels.lag = {};
        control.delay = {};
    }
    for (const HeatCutoff& cutoff : inputs.cutoffs)
        setup.cutoffs.push_back(trip_of(cutoff, choice.with_cutoffs, runaway));
    return setup;
}

// Everything that is known when the figures of a curve are taken: what is shown, and how it goes on.
struct Followed {
    const Design& design;
    const HeatInputs& inputs;
    const CurveChoice& choice;
    const ThermalNetwork& network;
    const RunSetup& setup;
    const Run& shown;
    const LongRun& whole;

    // The moment in what is shown, or later.
    template <class Find> std::optional<Time> first(Find find) const {
        const std::optional<Time> early = find(shown);
        return early ? early : find(whole.run);
    }
};

CurveBody figures_of(const Followed& followed, const std::vector<HeatLimit>& limits, std::uint32_t body) {
    CurveBody result{.body = {body},
                     .name = followed.design.bodies[body].name,
                     .start = followed.network.ambient,
                     .highest = followed.shown.highest[body],
                     .highest_at = followed.shown.highest_at[body],
                     .lowest_settled = followed.whole.lowest[body],
                     .highest_settled = followed.whole.highest[body],
                     .end = followed.shown.end[body],
                     .limit = {},
                     .passes_limit = {}};
    // Of many alike peaks the first; of a slow approach its end, nearly.
    const auto early = first_above(followed.shown, body, result.highest - as_good_as);
    if (early && result.highest_at - *early > 0.02 * followed.shown.ended) result.highest_at = *early;
    for (const HeatLimit& limit : limits)
        if (limit.body.value == body && (!result.limit || limit.highest < result.limit->highest)) result.limit = limit;
    if (!result.limit) return result;
    result.passes_limit = followed.first([&](const Run& run) { return first_above(run, body, result.limit->highest); });
    return result;
}

CurveControl figures_of(const Followed& followed, std::uint32_t index) {
    const HeatControl& control = followed.inputs.controls[index];
    const TwoPoint& point = followed.setup.controls[index];
    CurveControl result;
    result.name = control.name;
    result.setpoint = point.on_below + 0.5 * (point.off_above - point.on_below);
    result.stuck = point.stuck_on;
    result.proportional = control.proportional;
    result.feels_room = point.feels.body == room;
    if (control.senses) {
        result.body = followed.design.bodies[control.senses->value].name;
        result.reached =
            followed.first([&](const Run& run) { return first_above(run, control.senses->value, result.setpoint); });
    }
    const CycleSeen seen = last_cycles(followed.whole.run, index);
    result.duty = result.stuck ? 1.0 : seen.duty;
    result.cycle = seen.cycle;
    return result;
}

CurveCutoff cutoff_figures(const Followed& followed, std::uint32_t index) {
    const HeatCutoff& cutoff = followed.inputs.cutoffs[index];
    CurveCutoff result;
    result.name = followed.design.part(cutoff.part).name;
    if (cutoff.body) result.body = followed.design.bodies[cutoff.body->value].name;
    if (!cutoff.body) result.missing.push_back("mounted_on");
    if (!cutoff.trip) result.missing.push_back("trip");
    result.acts = followed.choice.with_cutoffs &&
                  std::ranges::any_of(followed.network.sources,
                                      [&](const HeatSource& source) { return contains(source.cutoffs, index); });
    if (!works(cutoff)) return result;
    result.trip = *cutoff.trip;
    result.opens = followed.setup.cutoffs[index].opens;
    result.closes_again = followed.setup.cutoffs[index].closes.has_value();
    result.opened = followed.first([&](const Run& run) { return first_opening(run, index); });
    result.openings = openings(followed.shown, index);
    return result;
}

std::vector<CurveHeater> heaters_of(const Followed& followed, std::span<const Time> times) {
    std::vector<CurveHeater> result;
    std::uint32_t source = 0;
    for (const PartHeat& part : followed.inputs.parts) {
        if (!heated_body(followed.design, part.part)) continue;
        const HeatSource& heat = followed.network.sources[source++];
        if (!part.is_heater || (!heat.control && heat.cutoffs.empty())) continue;
        result.push_back({followed.design.part(part.part).name, share_on(followed.shown, followed.setup, heat, times)});
    }
    return result;
}

// Whether heat that no control holds is still on at the end, with nothing open for good in its way.
bool still_heats(const Followed& followed) {
    return std::ranges::any_of(followed.network.sources, [&](const HeatSource& source) {
        if (!source.control) return false;
        const TwoPoint& control = followed.setup.controls[*source.control];
        if (!control.stuck_on && control.feels.body != room) return false;
        return std::ranges::none_of(source.cutoffs, [&](std::uint32_t cutoff) {
            return !followed.setup.cutoffs[cutoff].closes && first_opening(followed.whole.run, cutoff);
        });
    });
}

} // namespace

std::vector<std::uint32_t> controls_of_switch(const Design& design, const HeatInputs& inputs, PartId part) {
    std::vector<std::uint32_t> result;
    for (std::uint32_t i = 0; i < inputs.controls.size(); ++i) {
        const HeatControl& control = inputs.controls[i];
        const bool drives = control.of_design && std::ranges::find(design.controls[*control.of_design].drives, part) !=
                                                     design.controls[*control.of_design].drives.end();
        if (drives || control.thermostat == part) result.push_back(i);
    }
    return result;
}

HeatCurve heat_curve(const Design& design, const HeatInputs& inputs, const CurveChoice& choice) {
    const ThermalNetwork network = heat_network(design, inputs, choice.situation, choice.extreme);
    RunSetup setup = curve_setup(design, inputs, choice);
    const LongRun whole = run_until_settled(network, setup);
    const Time span = choice.span ? *choice.span : worth_showing(network, setup, whole);

    HeatCurve curve;
    curve.situation = choice.situation;
    curve.extreme = choice.extreme;
    curve.ambient = network.ambient;
    if (choice.stuck) curve.stuck = design.part(*choice.stuck).name;
    curve.with_cutoffs = choice.with_cutoffs;
    curve.inner_paths_vary = has_uncertain_inner_paths(design);
    curve.settled = whole.settled;
    curve.step = grid_step(span);
    setup.until = span;
    setup.record = true;
    setup.record_every = curve.step;
    const Run shown = simulate(network, setup);
    if (shown.ended < span) curve.gave_up = shown.ended;
    curve.times = grid(shown.ended, curve.step);
    const Followed followed{design, inputs, choice, network, setup, shown, whole};

    const bool takes_away = choice.situation.kind == Situation::Kind::empty;
    const std::vector<HeatLimit> limits = heat_limits(design);
    for (std::uint32_t i = 0; i < design.bodies.size(); ++i)
        if (!takes_away || choice.situation.body->value != i) curve.bodies.push_back(figures_of(followed, limits, i));
    curve.temperatures = on_grid(shown, curve.times, curve.bodies);
    for (std::uint32_t i = 0; i < inputs.controls.size(); ++i) {
        curve.controls.push_back(figures_of(followed, i));
        curve.runaway = curve.runaway || curve.controls[i].stuck || curve.controls[i].feels_room;
    }
    for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i) curve.cutoffs.push_back(cutoff_figures(followed, i));
    curve.heaters = heaters_of(followed, curve.times);
    curve.still_heats = still_heats(followed);
    return curve;
}

} // namespace trivet
