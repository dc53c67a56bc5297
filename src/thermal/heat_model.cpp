#include "thermal/heat_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

bool is_open(const HeatPath& path) { return !path.conductance && !path.area; }

bool exists(const HeatPath& path, const Situation& situation) {
    return !path.without || (situation.kind == Situation::Kind::empty && situation.body == path.without);
}

// 1: the end of a range that is read, -1: the other one.
template <Dimension D> double end_of(const Range<D>& range, bool high) { return high ? range.hi.si : range.lo.si; }

const MaterialElement* material_of(const std::optional<MaterialElement>& made_of) {
    return made_of ? &*made_of : nullptr;
}

std::optional<Range<dim::number>> emissivity_of(const Design& design, const HeatPath& path) {
    if (path.emissivity) return exactly(Number{path.emissivity->value});
    const MaterialElement* material = material_of(design.body(path.from_body).made_of);
    if (material == nullptr || !material->emissivity) return std::nullopt;
    return material->emissivity->range;
}

Facing facing_of(const HeatPath& path) {
    const auto found = std::ranges::find(facing_names, path.facing);
    return static_cast<Facing>(found - facing_names.begin());
}

// What the correlation asks for; a square where the sides are not stated.
Length length_of(const HeatPath& path, double area) {
    const double side = std::sqrt(area);
    switch (facing_of(path)) {
    case Facing::vertical:
        return {path.height ? path.height->value.middle().si : side};
    case Facing::round:
        return {path.height ? path.height->value.middle().si : side / 3.14159265358979323846};
    case Facing::up:
    case Facing::down:
        break;
    }
    const double width = path.width ? path.width->value.middle().si : side;
    return {area / (2.0 * (width + area / width))};
}

Surface surface_of(const Design& design, const HeatPath& path, const Situation& situation, bool good) {
    Surface surface;
    surface.area = {end_of(path.area->value, good)};
    surface.length = length_of(path, surface.area.si);
    surface.facing = facing_of(path);
    if (const auto emissivity = emissivity_of(design, path)) surface.emissivity = end_of(*emissivity, good);
    const bool stopped = situation.kind == Situation::Kind::fan_stopped && situation.part == path.fan;
    if (path.fan && path.air_speed && !stopped) surface.air_speed = {end_of(path.air_speed->value, good)};
    surface.along_stream = {path.width ? path.width->value.middle().si : std::sqrt(surface.area.si)};
    return surface;
}

HeatLink link_of(const Design& design, const HeatPath& path, const Situation& situation, double uncertainty,
                 bool good) {
    HeatLink link;
    link.from = path.from_body.value;
    link.to = path.to_body ? path.to_body->value : room;
    if (path.conductance) {
        link.law = Conducts{{end_of(path.conductance->value, good)}};
    } else if (path.thickness && path.area && path.made_of && path.made_of->conductivity) {
        link.law = Conducts{{end_of(path.made_of->conductivity->range, good) * end_of(path.area->value, good) /
                             end_of(path.thickness->value, !good)}};
    } else if (path.area && !path.facing.empty()) {
        link.law = surface_of(design, path, situation, good);
        link.share = good ? 1.0 + uncertainty : 1.0 - uncertainty;
    } else {
        link.law = Conducts{{1.0}};
    }
    return link;
}

ThermalBody thermal_body(const Body& body, bool heavy) {
    ThermalBody result{.name = body.name, .capacity = {1.0}, .melting = {}};
    const MaterialElement* material = material_of(body.made_of);
    if (body.capacity) {
        result.capacity = {end_of(body.capacity->value, heavy)};
        return result;
    }
    if (!body.mass || material == nullptr || !material->specific_heat) return result;
    const double mass = end_of(body.mass->value, heavy);
    result.capacity = {mass * end_of(material->specific_heat->range, heavy)};
    if (material->melting && material->melting_energy && material->melting->range.lo < material->melting->range.hi)
        result.melting = Melting{.from = material->melting->range.lo,
                                 .to = material->melting->range.hi,
                                 .energy = {mass * end_of(material->melting_energy->range, heavy)}};
    return result;
}

std::optional<Temperature> self_limit(const PartHeat& part, bool cold) {
    if (!part.self_limit) return std::nullopt;
    return cold ? part.self_limit->lo : part.self_limit->hi;
}

void take_away(ThermalNetwork& network, std::uint32_t body) {
    std::erase_if(network.links, [&](const HeatLink& link) { return link.from == body || link.to == body; });
    network.links.push_back({.from = body, .to = room, .law = Conducts{{1.0}}, .share = 1.0});
    network.bodies[body].melting.reset();
}

} // namespace

std::optional<BodyId> heated_body(const Design& design, PartId part) {
    for (std::uint32_t i = 0; i < design.bodies.size(); ++i)
        if (std::ranges::find(design.bodies[i].heated_by, part) != design.bodies[i].heated_by.end()) return BodyId{i};
    return std::nullopt;
}

bool has_uncertain_inner_paths(const Design& design) {
    return std::ranges::any_of(design.heat_paths, [](const HeatPath& path) {
        if (!path.to_body) return false;
        return !path.conductance || !path.conductance->value.is_point();
    });
}

std::vector<Situation> situations(const Design& design, const HeatInputs& inputs) {
    std::vector<Situation> result{{.kind = Situation::Kind::normal, .body = {}, .part = {}, .text = "normal"}};
    for (std::uint32_t i = 0; i < design.bodies.size(); ++i) {
        const Body& body = design.bodies[i];
        if (body.may_be_covered) result.push_back({Situation::Kind::covered, BodyId{i}, {}, body.name + " covered"});
        if (body.may_be_empty) result.push_back({Situation::Kind::empty, BodyId{i}, {}, body.name + " taken away"});
    }
    std::vector<PartId> fans;
    for (const HeatPath& path : design.heat_paths) {
        if (!path.fan || std::ranges::find(fans, *path.fan) != fans.end()) continue;
        fans.push_back(*path.fan);
        result.push_back({Situation::Kind::fan_stopped, {}, path.fan, design.part(*path.fan).name + " stopped"});
    }
    for (const HeatControl& control : inputs.controls)
        if (control.sensor && control.senses && !control.thermostat)
            result.push_back({Situation::Kind::sensor_off,
                              {},
                              control.sensor,
                              design.part(*control.sensor).name + " off its place"});
    return result;
}

std::vector<std::string> missing_for_steady(const Design& design, const HeatInputs& inputs) {
    std::vector<std::string> missing;
    for (const HeatPath& path : design.heat_paths) {
        const std::string name = fmt::format("{} to {}", path.from, path.to);
        if (is_open(path))
            missing.push_back(
                fmt::format("conductance of the heat path {} (state it there, or find it with trivet fit)", name));
        else if (path.thickness && !(path.made_of && path.made_of->conductivity))
            missing.push_back(fmt::format("material of the heat path {} (state one with a conductivity)", name));
        else if (!path.facing.empty() && !emissivity_of(design, path))
            missing.push_back(fmt::format("emissivity of the heat path {} (state it there)", name));
    }
    for (const PartHeat& part : inputs.parts) missing.insert(missing.end(), part.missing.begin(), part.missing.end());
    return missing;
}

std::vector<std::string> missing_for_time(const Design& design) {
    std::vector<std::string> missing;
    for (const Body& body : design.bodies) {
        if (body.capacity) continue;
        const MaterialElement* material = material_of(body.made_of);
        if (!body.mass)
            missing.push_back(fmt::format("mass of {} (state it in its [[body]], or its capacity)", body.name));
        else if (material == nullptr || !material->specific_heat)
            missing.push_back(
                fmt::format("material of {} (state one with a specific heat in its [[body]])", body.name));
    }
    return missing;
}

ThermalNetwork heat_network(const Design& design, const HeatInputs& inputs, const Situation& situation,
                            HeatExtreme extreme) {
    const bool cold = extreme == HeatExtreme::cold;
    ThermalNetwork network;
    network.ambient = cold ? design.ambient.value.lo : design.ambient.value.hi;
    for (const Body& body : design.bodies) network.bodies.push_back(thermal_body(body, cold));
    for (const HeatPath& path : design.heat_paths) {
        if (!exists(path, situation)) continue;
        const bool good = path.to_body ? extreme == HeatExtreme::hot_tight : cold;
        HeatLink link = link_of(design, path, situation, inputs.assumptions.loss_uncertainty, good);
        const bool is_covered = situation.kind == Situation::Kind::covered && situation.body == path.from_body;
        if (is_covered && !path.to_body) link.share *= inputs.assumptions.covered_share;
        network.links.push_back(link);
    }
    for (const PartHeat& part : inputs.parts) {
        const auto body = heated_body(design, part.part);
        if (!body) continue;
        network.sources.push_back({.body = body->value,
                                   .power = cold ? part.power.lo : part.power.hi,
                                   .coefficient = part.coefficient,
                                   .reference = part.reference,
                                   .control = part.control,
                                   .cutoffs = part.cutoffs,
                                   .self_limit = self_limit(part, cold)});
    }
    if (situation.kind == Situation::Kind::empty) take_away(network, situation.body->value);
    return network;
}

RunSetup control_setup(const HeatInputs& inputs, const Situation& situation, HeatExtreme extreme) {
    RunSetup setup;
    for (const HeatControl& control : inputs.controls) {
        const Temperature setpoint = extreme == HeatExtreme::cold ? control.setpoint.lo : control.setpoint.hi;
        const bool is_off = situation.kind == Situation::Kind::sensor_off && situation.part == control.sensor;
        TwoPoint point;
        point.feels = {.body = is_off || !control.senses ? room : control.senses->value, .lag = control.lag};
        point.on_below = setpoint - 0.5 * control.band;
        point.off_above = setpoint + 0.5 * control.band;
        point.delay = control.delay;
        setup.controls.push_back(point);
    }
    return setup;
}

std::vector<HeatLimit> heat_limits(const Design& design) {
    std::vector<HeatLimit> limits;
    for (std::uint32_t i = 0; i < design.bodies.size(); ++i) {
        const Body& body = design.bodies[i];
        if (body.limit)
            limits.push_back({{i}, body.limit->value.lo, "the limit of " + body.name});
        else if (body.made_of && body.made_of->limit)
            limits.push_back(
                {{i}, body.made_of->limit->range.lo, fmt::format("the {} of {}", body.material, body.name)});
    }
    for (const PartUse& use : design.parts) {
        const auto body = use.on_body ? use.on_body : use.beside_body;
        if (body && use.part->temperature_limit)
            limits.push_back({*body, use.part->temperature_limit->range.lo, "what " + use.name + " bears"});
    }
    for (const Wire& wire : design.wires) {
        if (!wire.made_of.insulation_class) continue;
        for (const auto& body :
             {design.part(wire.from.part).on_body, design.part(wire.to.part).on_body, wire.beside_body})
            if (body)
                limits.push_back({*body, wire.made_of.insulation_class->range.lo, "the insulation of " + wire.name});
    }
    return limits;
}

} // namespace trivet
