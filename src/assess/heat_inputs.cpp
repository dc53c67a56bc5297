#include "assess/heat_inputs.h"

#include "assess/dissipation.h"
#include "circuit/list_search.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>

namespace trivet {

namespace {

HeatAssumptions assumptions(const Policy& policy) {
    HeatAssumptions result;
    const auto read = [&](std::string_view name, double& to) {
        if (const PolicyItem* item = policy.find(name)) to = item->value.si;
    };
    read("heat_loss_uncertainty", result.loss_uncertainty);
    read("covered_loss", result.covered_share);
    read("sensor_lag", result.sensor_lag.si);
    read("cutoff_lag", result.cutoff_lag.si);
    read("touch_time", result.touch_time.si);
    return result;
}

Time lag_of(const Part& sensor, Time otherwise) {
    for (const Element& element : sensor.elements) {
        const Perhaps<dim::time>* stated = nullptr;
        if (const auto* thermistor = std::get_if<ThermistorElement>(&element.body))
            stated = &thermistor->response_time;
        else if (const auto* signal = std::get_if<SignalElement>(&element.body))
            stated = &signal->response_time;
        if (stated != nullptr && *stated) return (*stated)->range.hi;
    }
    return otherwise;
}

// Where its first sensor with a known place is, and what keeps it from being followed.
void place_sensor(const Design& design, const Control& control, Time otherwise, HeatControl& result) {
    for (const PartId part : control.senses) {
        const PartUse& use = design.part(part);
        if (!result.sensor) result.sensor = part;
        const auto body = use.sees_body ? use.sees_body : use.on_body;
        if (!body) continue;
        result.sensor = part;
        result.senses = body;
        result.lag = lag_of(*use.part, otherwise);
        return;
    }
    if (!result.sensor)
        result.missing.push_back(fmt::format("senses of the control {} (name its sensor there)", control.name));
    else
        result.missing.push_back(
            fmt::format("the place of {0} (state mounted_on or sees in [part.{0}])", design.part(*result.sensor).name));
}

HeatControl stated_control(const Design& design, std::uint32_t index, const HeatAssumptions& assumed) {
    const Control& control = design.controls[index];
    HeatControl result;
    result.name = control.name;
    result.of_design = index;
    result.proportional = control.proportional;
    place_sensor(design, control, assumed.sensor_lag, result);
    if (control.setpoint)
        result.setpoint = control.setpoint->value;
    else
        result.missing.push_back(fmt::format("setpoint of the control {} (state it there)", control.name));
    if (control.band) result.band = control.band->value.hi;
    if (control.every) result.delay = control.every->value.hi;
    if (!control.band && !control.every && !control.proportional)
        result.missing.push_back(fmt::format("band of the control {} (state it there)", control.name));
    return result;
}

// Two programs for one switch: nothing says which of them is at work.
void refuse_shared_switches(const Design& design, std::vector<HeatControl>& controls) {
    std::map<PartId, std::string_view> driven_by;
    for (std::size_t i = 0; i < design.controls.size(); ++i) {
        const Control& control = design.controls[i];
        for (const PartId part : control.drives) {
            const auto [other, is_first] = driven_by.try_emplace(part, control.name);
            if (is_first || other->second == control.name) continue;
            controls[i].missing.push_back(fmt::format(
                "which of the controls {} and {} works {} (state only the one that heats most, and the other "
                "in a design of its own)",
                other->second, control.name, design.part(part).name));
        }
    }
}

const CutoffElement& element_of(const Design& design, const Branch& branch) {
    return std::get<CutoffElement>(design.part(branch.part).part->elements[branch.element].body);
}

// A thermostat as the only control: closes at its reset temperature, opens at its trip temperature.
HeatControl thermostat_control(const Design& design, const Branch& branch, const HeatAssumptions& assumed) {
    const CutoffElement& element = element_of(design, branch);
    const PartUse& use = design.part(branch.part);
    HeatControl result;
    result.name = use.name;
    result.thermostat = branch.part;
    result.sensor = branch.part;
    result.senses = use.on_body;
    result.lag = element.response_time ? element.response_time->range.hi : assumed.cutoff_lag;
    const auto lacks = [&](std::string_view key) {
        result.missing.push_back(fmt::format("{} of {} (state it in [part.{}])", key, use.name, use.name));
    };
    if (!use.on_body) lacks("mounted_on");
    if (!element.trip) lacks("trip");
    if (!element.reset_temperature) lacks("reset_temperature");
    if (!element.trip || !element.reset_temperature) return result;
    result.band = element.trip->range.middle() - element.reset_temperature->range.middle();
    result.setpoint = {element.trip->range.lo - 0.5 * result.band, element.trip->range.hi - 0.5 * result.band};
    return result;
}

std::vector<BranchId> regulating_cutoffs(const Analysis& analysis) {
    std::vector<BranchId> result;
    for (const HeaterProtection& heater : analysis.protection)
        for (const CutoffVerdict& verdict : heater.cutoffs)
            if (verdict.fault == CutoffFault::is_the_control && !contains(result, verdict.cutoff))
                result.push_back(verdict.cutoff);
    return result;
}

bool is_sensed(const Design& design, PartId part) {
    return std::ranges::any_of(design.controls, [&](const Control& control) {
        return std::ranges::find(control.senses, part) != control.senses.end() ||
               std::ranges::find(control.drives, part) != control.drives.end();
    });
}

HeatCutoff place_cutoff(const Design& design, const Analysis& analysis, BranchId id, const HeatAssumptions& assumed) {
    const Branch& branch = analysis.circuit.branches[id.value];
    const CutoffElement& element = element_of(design, branch);
    HeatCutoff result;
    result.part = branch.part;
    result.branch = id.value;
    result.body = design.part(branch.part).on_body;
    if (element.trip) result.trip = element.trip->range;
    if (element.reset_temperature) result.reset = element.reset_temperature->range;
    result.resets_itself = element.reset == CutoffReset::self;
    result.lag = element.response_time ? element.response_time->range.hi : assumed.cutoff_lag;
    return result;
}

// Which control turns a branch off: it drives one of its interrupters, or is one.
bool works_on(const Design& design, const Analysis& analysis, const HeatControl& control, BranchId id) {
    return std::ranges::any_of(analysis.interrupters[id.value], [&](BranchId interrupter) {
        const Branch& branch = analysis.circuit.branches[interrupter.value];
        if (branch.kind == BranchKind::wire || branch.kind == BranchKind::fuse) return false;
        if (control.thermostat) return branch.part == *control.thermostat;
        const std::vector<PartId>& drives = design.controls[*control.of_design].drives;
        return std::ranges::find(drives, branch.part) != drives.end();
    });
}

void connect(const Design& design, const Analysis& analysis, HeatInputs& inputs, PartHeat& heat) {
    for (const BranchId id : analysis.branches_of_part[heat.part.value]) {
        for (std::uint32_t i = 0; i < inputs.controls.size() && !heat.control; ++i)
            if (works_on(design, analysis, inputs.controls[i], id)) heat.control = i;
        for (const HeaterProtection& heater : analysis.protection) {
            if (heater.heater != id) continue;
            for (const CutoffVerdict& verdict : heater.cutoffs)
                for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i)
                    if (!verdict.fault && inputs.cutoffs[i].branch == verdict.cutoff.value) heat.cutoffs.push_back(i);
        }
    }
    for (std::uint32_t i = 0; i < inputs.controls.size() && !heat.control; ++i) {
        if (!inputs.controls[i].of_design) continue;
        const std::vector<PartId>& drives = design.controls[*inputs.controls[i].of_design].drives;
        if (std::ranges::find(drives, heat.part) != drives.end()) heat.control = i;
    }
}

} // namespace

HeatInputs heat_inputs(const Design& design, const Analysis& analysis, const Policy& policy) {
    HeatInputs inputs;
    if (design.bodies.empty()) return inputs;
    inputs.assumptions = assumptions(policy);
    for (std::uint32_t i = 0; i < design.controls.size(); ++i)
        inputs.controls.push_back(stated_control(design, i, inputs.assumptions));
    refuse_shared_switches(design, inputs.controls);
    const std::vector<BranchId> regulating = regulating_cutoffs(analysis);
    for (std::uint32_t i = 0; i < analysis.circuit.branches.size(); ++i) {
        const Branch& branch = analysis.circuit.branches[i];
        if (branch.kind != BranchKind::cutoff) continue;
        if (contains(regulating, {i}) && !is_sensed(design, branch.part))
            inputs.controls.push_back(thermostat_control(design, branch, inputs.assumptions));
        else
            inputs.cutoffs.push_back(place_cutoff(design, analysis, {i}, inputs.assumptions));
    }
    for (const Body& body : design.bodies)
        for (const PartId part : body.heated_by) {
            PartHeat heat = part_heat(design, analysis, part);
            connect(design, analysis, inputs, heat);
            inputs.parts.push_back(std::move(heat));
        }
    return inputs;
}

} // namespace trivet
