#pragma once

#include "thermal/heat_study.h"

#include <span>

namespace trivet {

// One situation at one extreme, ready to be solved.
struct HeatCase {
    std::uint32_t situation = 0;
    HeatExtreme extreme{};
    ThermalNetwork network;
    RunSetup setup; // controls only
    MeanRunning mean;
    std::vector<Cycle> settled; // [control]; empty where the controls cannot be followed in time
    Run warming; // from cold until every control has switched off and on again; hot cases in which heating pauses
};

// Long enough for anything built at home to come to rest.
inline constexpr Time days_enough{3.0 * 86400.0};

// A cutoff whose place or trip temperature nobody stated is not reckoned with.
inline bool works(const HeatCutoff& cutoff) { return cutoff.body && cutoff.trip; }

// As it opens in a run, at its highest trip temperature; never, unless it counts and works.
Trip trip_of(const HeatCutoff& cutoff, bool counts = true);

// Stops a run when no body gets warmer any more: after that nothing can pass a limit.
std::function<bool(Time, std::span<const double>)> until_nothing_rises();

// The hottest each body gets while the controls work: warming up from the room's temperature, and settled.
std::vector<Temperature> hottest_in_running(const HeatCase& heat);

// Fills in what a case gets while its controls work.
void follow_running(HeatCase& heat);

// The facts of every control, from the normal situation at both extremes.
void study_controls(const HeatInputs& inputs, const HeatCase& hot, const HeatCase& cold, HeatStudy& study);

// Everything at full power for ever, cutoffs ignored; empty when some body cannot lose its heat.
std::optional<std::vector<Temperature>> stuck_temperatures(const HeatCase& heat);

// Everything at full power until the independent cutoffs open at their highest trip temperature: the hottest each body
// gets, over heat that still flows afterwards, and over faults just too weak to trip them.
std::optional<std::vector<Temperature>> guarded_temperatures(const HeatCase& heat, const HeatInputs& inputs,
                                                             bool in_time);

// The facts of one cutoff that need its own runs: window, operating time, cycling. `hot`: all hot cases.
void study_cutoff(const HeatInputs& inputs, std::span<const HeatLimit> limits, std::uint32_t cutoff,
                  std::span<const HeatCase> hot, const HeatCase& cold, bool in_time, HeatStudy& study);

} // namespace trivet
