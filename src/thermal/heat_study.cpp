#include "thermal/heat_study.h"

#include "thermal/heat_case.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

namespace {

HeatCase make_case(const Design& design, const HeatInputs& inputs, std::span<const Situation> situations,
                   std::uint32_t situation, HeatExtreme extreme) {
    HeatCase heat{.situation = situation,
                  .extreme = extreme,
                  .network = heat_network(design, inputs, situations[situation], extreme),
                  .setup = control_setup(inputs, situations[situation], extreme),
                  .mean = {},
                  .settled = {},
                  .warming = {}};
    heat.mean = mean_running(heat.network, heat.setup);
    return heat;
}

// A detached sensor heats like a stuck switch, so that case adds no number of its own.
std::vector<HeatCase> hot_cases(const Design& design, const HeatInputs& inputs, std::span<const Situation> situations) {
    std::vector<HeatCase> cases;
    const bool tight = has_uncertain_inner_paths(design);
    for (std::uint32_t i = 0; i < situations.size(); ++i) {
        if (situations[i].kind == Situation::Kind::sensor_off) continue;
        cases.push_back(make_case(design, inputs, situations, i, HeatExtreme::hot));
        if (tight) cases.push_back(make_case(design, inputs, situations, i, HeatExtreme::hot_tight));
    }
    return cases;
}

void raise(Hottest& hottest, Temperature value, std::uint32_t situation) {
    if (!hottest.value || value > *hottest.value) hottest = {value, situation};
}

bool can_follow(const HeatInputs& inputs) {
    return std::ranges::all_of(inputs.controls, [](const HeatControl& control) { return control.missing.empty(); });
}

void study_bodies(const HeatInputs& inputs, std::span<const HeatCase> hot, HeatStudy& study) {
    const bool in_time = study.missing_in_time.empty();
    bool guards_known = true;
    for (const HeatCase& heat : hot) {
        const auto stuck = stuck_temperatures(heat);
        if (!stuck) {
            study.no_steady_state.push_back(study.situations[heat.situation].text);
            continue;
        }
        const auto guarded = guarded_temperatures(heat, inputs, in_time);
        guards_known = guards_known && guarded;
        std::vector<Temperature> running;
        // What a control does between its thresholds shows in time only.
        if (can_follow(inputs) && (in_time || inputs.controls.empty())) running = hottest_in_running(heat);
        for (std::uint32_t i = 0; i < study.bodies.size(); ++i) {
            // An emptied body is not there.
            if (study.situations[heat.situation].kind == Situation::Kind::empty &&
                study.situations[heat.situation].body->value == i)
                continue;
            raise(study.bodies[i].stuck, (*stuck)[i], heat.situation);
            if (guarded) raise(study.bodies[i].guarded, (*guarded)[i], heat.situation);
            if (!running.empty()) raise(study.bodies[i].normal, running[i], heat.situation);
        }
    }
    // The hottest of some situations only would look safe.
    for (BodyHeat& body : study.bodies) {
        if (!study.no_steady_state.empty()) body = {};
        if (!guards_known) body.guarded = {};
    }
}

} // namespace

HeatStudy study_heat(const Design& design, const HeatInputs& inputs) {
    HeatStudy study;
    study.described = !design.bodies.empty();
    study.bodies.resize(design.bodies.size());
    study.controls.resize(inputs.controls.size());
    study.cutoffs.resize(inputs.cutoffs.size());
    for (std::size_t i = 0; i < inputs.controls.size(); ++i) study.controls[i].missing = inputs.controls[i].missing;
    if (!study.described) return study;
    study.situations = situations(design, inputs);
    study.missing_steady = missing_for_steady(design, inputs);
    study.missing_in_time = missing_for_time(design);
    if (!study.missing_steady.empty()) return study;

    std::vector<HeatCase> hot = hot_cases(design, inputs, study.situations);
    HeatCase cold = make_case(design, inputs, study.situations, 0, HeatExtreme::cold);
    if (can_follow(inputs) && study.missing_in_time.empty()) {
        for (HeatCase& heat : hot) follow_running(heat);
        cold.settled = periodic_running(cold.network, cold.setup);
    }
    study_bodies(inputs, hot, study);
    study_controls(inputs, hot.front(), cold, study);
    const std::vector<HeatLimit> limits = heat_limits(design);
    for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i)
        study_cutoff(inputs, limits, i, hot, cold, study.missing_in_time.empty(), study);
    return study;
}

} // namespace trivet
