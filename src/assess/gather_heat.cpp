#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace trivet {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

std::string names(const Gathering& from, const std::vector<PartId>& parts) {
    std::string text;
    for (const PartId part : parts) text += (text.empty() ? "" : ", ") + from.design.part(part).name;
    return text.empty() ? "nothing" : text;
}

std::string body_stated_where(const Body& body) { return fmt::format("its [[body]] '{}'", body.name); }

void write_limit(SubjectWriter& writer, const Body& body) {
    if (body.limit) {
        writer.number("limit", any(body.limit->value.lo), body.limit->place, Certainty::stated);
        writer.text("limited_by", "the limit you state");
    } else if (body.made_of && body.made_of->limit) {
        writer.lowest("limit", "limit", body.made_of->limit);
        writer.text("limited_by", "what " + body.material + " bears");
    } else {
        writer.absent("limit", "limit");
        writer.text("limited_by", "nothing stated");
    }
}

void write_touch(SubjectWriter& writer, const Gathering& from, const Body& body) {
    if (body.touchable)
        writer.truth("touchable", body.touchable->value, body.touchable->place);
    else
        writer.absent("touchable", "touchable");
    const std::string& kind = !body.touch.empty() || !body.made_of ? body.touch : body.made_of->touch;
    kind.empty() ? writer.absent("touch_class", "touch") : writer.text("touch_class", kind);
    const Time assumed = from.analysis.heat_inputs.assumptions.touch_time;
    writer.number("touched_for", any(body.touched_for ? body.touched_for->value.hi : assumed));
}

std::uint32_t fewest_independent_cutoffs(const Gathering& from, std::uint32_t control, bool& drives_heater) {
    std::uint32_t fewest = std::numeric_limits<std::uint32_t>::max();
    const Control& stated = from.design.controls[control];
    for (const HeaterProtection& heater : from.analysis.protection) {
        const bool driven = std::ranges::any_of(heater.interrupters, [&](BranchId id) {
            const Branch& branch = from.branch(id);
            const bool is_switch = branch.kind == BranchKind::contact || branch.kind == BranchKind::transistor ||
                                   branch.kind == BranchKind::cutoff;
            return is_switch && std::ranges::find(stated.drives, branch.part) != stated.drives.end();
        });
        if (driven) fewest = std::min(fewest, static_cast<std::uint32_t>(heater.independent()));
    }
    drives_heater = fewest != std::numeric_limits<std::uint32_t>::max();
    return drives_heater ? fewest : 0;
}

void write_running(SubjectWriter& writer, const ControlHeat& heat) {
    writer.truth("reaches_setpoint", heat.reaches);
    writer.number("time_to_setpoint",
                  {heat.reaches && heat.time_to_setpoint ? heat.time_to_setpoint->si : never, dim::time});
    writer.number("overshoot", any(heat.overshoot));
    writer.number("band_held", any(heat.band_held));
    writer.number("cold_duty", {heat.duty_cold, dim::number});
    writer.number("hot_duty", {heat.duty_hot, dim::number});
    writer.number("mean_power", any(heat.mean_power));
    writer.number("energy_per_hour", {heat.mean_power.si * 3600.0, dim::energy});
}

const ControlHeat* heat_of_control(const Gathering& from, std::uint32_t control) {
    const HeatInputs& inputs = from.analysis.heat_inputs;
    for (std::size_t i = 0; i < inputs.controls.size(); ++i)
        if (inputs.controls[i].of_design == control) return &from.analysis.heat.controls[i];
    return nullptr;
}

} // namespace

Unknown why_no_heat(const Gathering& from, bool in_time) {
    const HeatStudy& heat = from.analysis.heat;
    if (!heat.described)
        return {{}, {"no bodies are described, so nothing is known about heat (add a [[body]] and a [[heat_path]])"}};
    Unknown why{heat.missing_steady, {}};
    if (in_time) why.missing.insert(why.missing.end(), heat.missing_in_time.begin(), heat.missing_in_time.end());
    for (const std::string& situation : heat.no_steady_state)
        why.reasons.push_back(fmt::format("{}: a body has no way left to lose its heat (describe its own heat path to "
                                          "the room)",
                                          situation));
    return why;
}

Unknown why_no_running(const Gathering& from) {
    Unknown why = why_no_heat(from, true);
    for (const HeatControl& control : from.analysis.heat_inputs.controls)
        why.missing.insert(why.missing.end(), control.missing.begin(), control.missing.end());
    return why;
}

bool heat_reaches(const Gathering& from, const std::vector<BodyId>& sources, BodyId target) {
    std::vector<bool> warm(from.design.bodies.size(), false);
    for (const BodyId body : sources) warm[body.value] = true;
    for (bool changed = true; changed;) {
        changed = false;
        for (const HeatPath& path : from.design.heat_paths) {
            if (!path.to_body || warm[path.from_body.value] == warm[path.to_body->value]) continue;
            warm[path.from_body.value] = warm[path.to_body->value] = changed = true;
        }
    }
    return warm[target.value];
}

void gather_bodies(Gathering& to) {
    for (std::uint32_t i = 0; i < to.design.bodies.size(); ++i) {
        const Body& body = to.design.bodies[i];
        const BodyHeat& heat = to.analysis.heat.bodies[i];
        SubjectWriter writer(to, SubjectKind::body, body.name, body.place, body_stated_where(body));
        writer.hottest("normal_temperature", heat.normal, why_no_running(to));
        writer.hottest("stuck_temperature", heat.stuck, why_no_heat(to, false));
        writer.hottest("guarded_temperature", heat.guarded, why_no_heat(to, true));
        write_limit(writer, body);
        write_touch(writer, to, body);
        writer.truth("liquid", body.liquid);
        if (body.liquid && !body.above_stated)
            writer.absent("electronics_below", "above", ", with [] if nothing is below");
        else
            writer.number("electronics_below", {static_cast<double>(body.above.size()), dim::number});
        writer.text("parts_below", names(to, body.above));
    }
}

void gather_controls(Gathering& to) {
    for (std::uint32_t i = 0; i < to.design.controls.size(); ++i) {
        const Control& control = to.design.controls[i];
        SubjectWriter writer(to, SubjectKind::control, control.name, control.place,
                             fmt::format("its [[control]] '{}'", control.name));
        const ControlHeat* heat = heat_of_control(to, i);
        const Unknown why = why_no_running(to);
        if (heat != nullptr && why.missing.empty() && why.reasons.empty())
            write_running(writer, *heat);
        else
            for (const auto fact : {"reaches_setpoint", "time_to_setpoint", "overshoot", "band_held", "cold_duty",
                                    "hot_duty", "mean_power", "energy_per_hour"})
                writer.unknown(fact, why);
        if (heat != nullptr && to.analysis.heat.described && heat->missing.empty())
            writer.truth("sees_heater", heat->sees_heater);
        else
            writer.unknown("sees_heater", why);
        control.setpoint ? writer.number("setpoint", any(control.setpoint->value.hi), control.setpoint->place)
                         : writer.absent("setpoint", "setpoint");
        bool drives_heater = false;
        const std::uint32_t fewest = fewest_independent_cutoffs(to, i, drives_heater);
        writer.truth("drives_heater", drives_heater);
        writer.number("independent_cutoffs", {static_cast<double>(fewest), dim::number});
        writer.truth("states_firmware_limit", control.firmware_limit.has_value());
        control.firmware_limit
            ? writer.number("firmware_limit", any(control.firmware_limit->value.lo), control.firmware_limit->place)
            : writer.absent("firmware_limit", "firmware_limit");
    }
}

void write_cycling(SubjectWriter& writer, const Gathering& from, BranchId id, const ContactElement& contact) {
    writer.highest("endurance", "endurance", contact.endurance);
    const PartId part = from.branch(id).part;
    const HeatInputs& inputs = from.analysis.heat_inputs;
    double most = 0.0;
    bool cycled = false;
    for (const Control& control : from.design.controls)
        cycled = cycled || (!control.proportional && std::ranges::find(control.drives, part) != control.drives.end());
    for (std::size_t i = 0; i < inputs.controls.size(); ++i) {
        if (!inputs.controls[i].of_design) continue;
        const std::vector<PartId>& drives = from.design.controls[*inputs.controls[i].of_design].drives;
        if (std::ranges::find(drives, part) != drives.end())
            most = std::max(most, from.analysis.heat.controls[i].operations_per_hour);
    }
    writer.truth("cycled", cycled);
    const Unknown why = why_no_running(from);
    if (!why.missing.empty() || !why.reasons.empty()) {
        writer.unknown("operations_per_hour", why);
        return writer.unknown("life", why);
    }
    writer.number("operations_per_hour", {most, dim::number});
    if (contact.endurance)
        writer.number("life", {most > 0.0 ? contact.endurance->range.lo.si / most * 3600.0 : never, dim::time},
                      contact.endurance->place, SubjectWriter::certainty_of(contact.endurance->basis));
    else
        writer.absent("life", "endurance");
}

} // namespace trivet
