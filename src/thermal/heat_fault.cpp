#include "thermal/heat_fault.h"

#include "thermal/steady.h"

#include <algorithm>

namespace trivet {

namespace {

Situation situation_of(const HeatFault& fault) {
    if (!fault.stopped_fan) return {Situation::Kind::normal, {}, {}, "normal"};
    return {Situation::Kind::fan_stopped, {}, fault.stopped_fan, "fan stopped"};
}

// Sources that the fault keeps on lose their control; the others heat as much as on average.
ThermalNetwork faulted(const HeatInputs& inputs, const HeatFault& fault, const HeatCase& sound) {
    ThermalNetwork network = sound.network;
    for (std::uint32_t i = 0; i < network.sources.size(); ++i) {
        HeatSource& source = network.sources[i];
        const auto stuck = std::ranges::find(fault.stuck, i, &HeatFault::Stuck::source);
        if (stuck != fault.stuck.end()) {
            source.power = stuck->share * source.power;
            source.cutoffs = stuck->cutoffs;
        } else if (source.control && inputs.controls[*source.control].missing.empty())
            source.power = sound.mean.duty[*source.control] * source.power;
        source.control.reset();
        std::erase_if(source.cutoffs, [&](std::uint32_t cutoff) {
            return std::ranges::find(fault.cutoffs, cutoff) == fault.cutoffs.end();
        });
    }
    return network;
}

Run follow(const ThermalNetwork& network, const HeatInputs& inputs, const HeatFault& fault,
           const std::vector<Temperature>& start) {
    RunSetup setup;
    for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i)
        setup.cutoffs.push_back(trip_of(inputs.cutoffs[i], std::ranges::find(fault.cutoffs, i) != fault.cutoffs.end()));
    setup.start = start;
    setup.until = days_enough;
    setup.stop = until_nothing_rises();
    return simulate(network, setup);
}

// What still heats after the cutoffs that open have opened.
std::optional<std::vector<Temperature>> at_rest(const ThermalNetwork& network, const Run& run) {
    std::vector<double> on(network.sources.size(), 1.0);
    for (const Switching& switching : run.switchings)
        for (std::size_t i = 0; i < on.size(); ++i)
            if (std::ranges::find(network.sources[i].cutoffs, switching.which) != network.sources[i].cutoffs.end())
                on[i] = 0.0;
    const auto found = steady_temperatures(network, on);
    if (!found) return std::nullopt;
    return *found;
}

} // namespace

HeatFaults::HeatFaults(const Design& design, const HeatInputs& inputs, const HeatStudy& study)
    : design_(design)
    , inputs_(inputs)
    , limits_(heat_limits(design))
    , can_tell_(study.described && study.missing_steady.empty() && study.missing_in_time.empty()) {}

HeatOutcome HeatFaults::outcome(const HeatFault& fault) {
    const auto known = std::ranges::find(played_, fault, &std::pair<HeatFault, HeatOutcome>::first);
    if (known != played_.end()) return known->second;
    played_.emplace_back(fault, play(fault));
    return played_.back().second;
}

HeatOutcome HeatFaults::play(const HeatFault& fault) const {
    if (!can_tell_) return {};
    HeatOutcome result = play(fault, HeatExtreme::hot);
    if (!result.known || !has_uncertain_inner_paths(design_)) return result;
    const HeatOutcome tight = play(fault, HeatExtreme::hot_tight);
    const bool worse = tight.passed && (!result.passed || tight.at_limit - tight.passed->highest >
                                                              result.at_limit - result.passed->highest);
    if (worse || !tight.known) {
        result.passed = tight.passed;
        result.at_limit = tight.at_limit;
    }
    for (std::size_t i = 0; i < result.highest.size(); ++i)
        result.highest[i] = std::max(result.highest[i], tight.highest[i]);
    if (result.opened && !tight.opened) result.opened.reset();
    if (result.opened) result.opened_at = std::max(result.opened_at, tight.opened_at);
    return result;
}

HeatCase HeatFaults::running_in(const Situation& situation, HeatExtreme extreme) const {
    HeatCase heat{.situation = 0,
                  .extreme = extreme,
                  .network = heat_network(design_, inputs_, situation, extreme),
                  .setup = control_setup(inputs_, situation, extreme),
                  .mean = {},
                  .settled = {},
                  .warming = {}};
    heat.mean = mean_running(heat.network, heat.setup);
    return heat;
}

HeatOutcome HeatFaults::play(const HeatFault& fault, HeatExtreme extreme) const {
    const Situation usual{Situation::Kind::normal, {}, {}, "normal"};
    const HeatCase after = running_in(situation_of(fault), extreme);
    const auto start = fault.stopped_fan ? running_in(usual, extreme).mean.temperatures : after.mean.temperatures;
    const ThermalNetwork network = faulted(inputs_, fault, after);
    HeatOutcome outcome;
    const Run run = follow(network, inputs_, fault, start);
    const auto rest = at_rest(network, run);
    if (!rest) return outcome;
    outcome.known = true;
    outcome.highest = run.highest;
    for (std::size_t i = 0; i < rest->size(); ++i) outcome.highest[i] = std::max(outcome.highest[i], (*rest)[i]);
    if (!run.switchings.empty()) {
        outcome.opened = run.switchings.front().which;
        outcome.opened_at = run.switchings.front().at;
    }
    for (const HeatLimit& limit : limits_) {
        const Temperature here = outcome.highest[limit.body.value];
        const bool passes = here > limit.highest;
        if (!passes || (outcome.passed && here - limit.highest <= outcome.at_limit - outcome.passed->highest)) continue;
        outcome.passed = limit;
        outcome.at_limit = here;
    }
    return outcome;
}

} // namespace trivet
