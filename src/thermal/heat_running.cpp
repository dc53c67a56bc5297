#include "thermal/heat_case.h"

#include <algorithm>

namespace trivet {

namespace {

bool heats_without_pause(const HeatCase& heat) {
    return std::ranges::all_of(heat.mean.duty, [](double duty) { return duty >= 1.0; });
}

// From cold until every control has switched off and on again.
Run warm_up(const HeatCase& heat) {
    RunSetup setup = heat.setup;
    setup.until = days_enough;
    setup.most_switchings = 2 * setup.controls.size();
    return simulate(heat.network, setup);
}

// When the body that a control senses first reaches the setpoint, from the room's temperature.
std::vector<std::optional<Time>> times_to_setpoint(const HeatCase& cold, const HeatInputs& inputs) {
    RunSetup setup = cold.setup;
    setup.until = days_enough;
    for (std::size_t i = 0; i < setup.controls.size(); ++i) {
        TwoPoint& control = setup.controls[i];
        control.feels.lag = {};
        control.delay = {};
        control.off_above = inputs.controls[i].setpoint.lo;
        control.on_below = std::min(control.on_below, control.off_above - TemperatureDifference{1.0});
    }
    std::vector<bool> there(setup.controls.size(), false);
    setup.stop = [&](Time, std::span<const double> temperatures) {
        for (std::size_t i = 0; i < there.size(); ++i) {
            const TwoPoint& control = setup.controls[i];
            const bool reached = temperatures[control.feels.body] >= control.off_above.si - 1e-6;
            there[i] = there[i] || reached || cold.mean.duty[i] >= 1.0;
        }
        return std::ranges::all_of(there, [](bool done) { return done; });
    };
    return simulate(cold.network, setup).first_off;
}

double operations(const Cycle& cycle) { return cycle.cycles && cycle.period.si > 0.0 ? 3600.0 / cycle.period.si : 0.0; }

double operations_in(const ThermalNetwork& network, RunSetup setup, std::uint32_t control) {
    TwoPoint& point = setup.controls[control];
    if (point.on_below < point.off_above) point.delay = {};
    return operations(periodic_running(network, setup)[control]);
}

// A two-point control switches most often with full power and little mass where it heats half of the time; a sampled
// one that acts at once. The room in which it does so is looked for between the coldest and the hottest.
double most_operations(const HeatCase& hot, const HeatCase& cold, std::uint32_t control) {
    ThermalNetwork lossy = hot.network;
    lossy.links = cold.network.links;
    lossy.ambient = cold.network.ambient;
    double most = std::max(operations_in(hot.network, hot.setup, control), operations_in(lossy, hot.setup, control));
    const auto duty = [&] { return mean_running(lossy, hot.setup).duty[control]; };
    if (duty() <= 0.5 || hot.mean.duty[control] >= 0.5) return most;
    Temperature low = cold.network.ambient;
    Temperature high = hot.network.ambient;
    for (int step = 0; step < 10; ++step) {
        lossy.ambient = low + 0.5 * (high - low);
        (duty() > 0.5 ? low : high) = lossy.ambient;
    }
    return std::max(most, operations_in(lossy, hot.setup, control));
}

void study_control(const HeatCase& hot, const HeatCase& cold, const HeatControl& control, std::uint32_t index,
                   ControlHeat& result) {
    const std::uint32_t body = control.senses->value;
    result.duty_hot = hot.mean.duty[index];
    result.duty_cold = cold.mean.duty[index];
    result.reaches = result.duty_cold < 1.0;
    result.cold_temperature = cold.mean.temperatures[body];
    result.mean_power = cold.settled[index].mean_power;
    if (control.proportional) return;
    const Cycle& settled = hot.settled[index];
    const bool pauses = !hot.warming.highest.empty();
    const Temperature peak =
        pauses ? std::max(settled.highest[body], hot.warming.highest[body]) : settled.highest[body];
    result.overshoot = {std::max(0.0, (peak - control.setpoint.hi).si)};
    result.band_held = settled.highest[body] - settled.lowest[body];
    result.operations_per_hour = most_operations(hot, cold, index);
}

} // namespace

void follow_running(HeatCase& heat) {
    if (heat.setup.controls.empty()) return;
    heat.settled = periodic_running(heat.network, heat.setup);
    if (!heats_without_pause(heat)) heat.warming = warm_up(heat);
}

std::vector<Temperature> hottest_in_running(const HeatCase& heat) {
    std::vector<Temperature> highest = heat.mean.temperatures;
    const auto raise = [&](const std::vector<Temperature>& to) {
        for (std::size_t i = 0; i < highest.size(); ++i) highest[i] = std::max(highest[i], to[i]);
    };
    for (const Cycle& cycle : heat.settled) raise(cycle.highest);
    if (!heat.warming.highest.empty()) raise(heat.warming.highest);
    return highest;
}

void study_controls(const HeatInputs& inputs, const HeatCase& hot, const HeatCase& cold, HeatStudy& study) {
    const bool followed = std::ranges::all_of(study.controls, [](const ControlHeat& c) { return c.missing.empty(); });
    if (inputs.controls.empty() || !followed || !study.missing_in_time.empty()) return;
    const auto times = times_to_setpoint(cold, inputs);
    for (std::uint32_t i = 0; i < inputs.controls.size(); ++i) {
        study.controls[i].time_to_setpoint = times[i];
        study_control(hot, cold, inputs.controls[i], i, study.controls[i]);
    }
}

} // namespace trivet
