#include "thermal/design_fit.h"

#include "design/overlay.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double wide_ambient = 2.0; // K

// The parts behind the sources of the network, in its order.
std::vector<const PartHeat*> source_parts(const Design& design, const HeatInputs& inputs) {
    std::vector<const PartHeat*> parts;
    for (const PartHeat& part : inputs.parts)
        if (heated_body(design, part.part)) parts.push_back(&part);
    return parts;
}

// Two fits of the same parameters as one that covers both.
FitResult covering(FitResult first, const FitResult& second) {
    first.residual = std::max(first.residual, second.residual);
    first.largest_residual = std::max(first.largest_residual, second.largest_residual);
    first.autocorrelation = std::max(first.autocorrelation, second.autocorrelation);
    first.missing = std::max(first.missing, second.missing);
    first.iterations += second.iterations;
    first.converged = first.converged && second.converged;
    for (const std::string& name : second.undetermined)
        if (std::ranges::find(first.undetermined, name) == first.undetermined.end()) first.undetermined.push_back(name);
    if (first.parameters.size() != second.parameters.size()) first.parameters.clear();
    for (std::size_t i = 0; i < first.parameters.size(); ++i) {
        FittedParameter& into = first.parameters[i];
        into.value = std::sqrt(into.value * second.parameters[i].value);
        into.lowest = std::min(into.lowest, second.parameters[i].lowest);
        into.highest = std::max(into.highest, second.parameters[i].highest);
    }
    return first;
}

} // namespace

std::vector<OpenParameter> open_parameters(const Design& design) {
    std::vector<OpenParameter> open;
    std::uint32_t link = 0;
    for (const HeatPath& path : design.heat_paths) {
        if (path.without) continue;
        if (is_open(path))
            open.push_back(
                {OpenParameter::Kind::conductance, link, fmt::format("conductance from {} to {}", path.from, path.to)});
        ++link;
    }
    for (std::uint32_t body = 0; body < design.bodies.size(); ++body)
        if (is_open(design.bodies[body]))
            open.push_back(
                {OpenParameter::Kind::capacity, body, fmt::format("heat capacity of {}", design.bodies[body].name)});
    return open;
}

std::size_t path_of_link(const Design& design, std::uint32_t link) {
    std::size_t path = 0;
    for (std::uint32_t seen = 0; path < design.heat_paths.size(); ++path)
        if (!design.heat_paths[path].without && seen++ == link) break;
    return path;
}

LogNames log_names(const Design& design, const HeatInputs& inputs) {
    LogNames names;
    for (const Body& body : design.bodies) names.bodies.push_back(body.name);
    const std::vector<const PartHeat*> parts = source_parts(design, inputs);
    const auto add = [&names](const std::string& name, std::uint32_t source) {
        const auto known = std::ranges::find(names.switches, name, &LogSwitch::name);
        LogSwitch& found = known == names.switches.end() ? names.switches.emplace_back(LogSwitch{name, {}}) : *known;
        if (std::ranges::find(found.sources, source) == found.sources.end()) found.sources.push_back(source);
    };
    for (std::uint32_t source = 0; source < parts.size(); ++source) {
        const PartHeat& part = *parts[source];
        const std::string& name = design.part(part.part).name;
        names.sources.push_back(part.is_heater || part.control ? name : std::string{});
        add(name, source);
        if (!part.control) continue;
        const HeatControl& control = inputs.controls[*part.control];
        if (control.thermostat) add(design.part(*control.thermostat).name, source);
        if (!control.of_design) continue;
        add(control.name, source);
        for (const PartId driven : design.controls[*control.of_design].drives) add(design.part(driven).name, source);
    }
    names.needs_ambient = design.ambient.value.hi.si - design.ambient.value.lo.si > wide_ambient;
    names.least_rows = std::max<std::size_t>(3, 3 * open_parameters(design).size());
    return names;
}

std::vector<std::string> missing_for_fit(const Design& design, const HeatInputs& inputs) {
    Design filled = design;
    std::erase_if(filled.heat_paths, [](const HeatPath& path) { return path.without.has_value(); });
    for (HeatPath& path : filled.heat_paths)
        if (is_open(path)) path.conductance = {exactly(ThermalConductance{1.0}), path.place};
    for (Body& body : filled.bodies)
        if (is_open(body)) body.capacity = {exactly(HeatCapacity{1.0}), body.place};
    std::vector<std::string> missing = missing_for_steady(filled, inputs);
    for (std::string& other : missing_for_time(filled)) missing.push_back(std::move(other));
    return missing;
}

FitResult fit_design(const Design& design, const HeatInputs& inputs, const HeatLog& log,
                     const std::function<void(int, TemperatureDifference)>& progress) {
    const std::vector<OpenParameter> open = open_parameters(design);
    const Situation normal{Situation::Kind::normal, {}, {}, {}};
    FitResult hot = fit(heat_network(design, inputs, normal, HeatExtreme::hot), open, log, progress);
    return covering(std::move(hot), fit(heat_network(design, inputs, normal, HeatExtreme::cold), open, log, progress));
}

} // namespace trivet
