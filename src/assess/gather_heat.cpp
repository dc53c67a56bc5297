#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>

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

std::vector<const HeaterProtection*> driven_heaters(const Gathering& from, const Control& control) {
    std::vector<const HeaterProtection*> driven;
    for (const HeaterProtection& heater : from.analysis.protection) {
        const bool is_driven = std::ranges::any_of(heater.interrupters, [&](BranchId id) {
            const Branch& branch = from.branch(id);
            const bool is_switch = branch.kind == BranchKind::contact || branch.kind == BranchKind::transistor ||
                                   branch.kind == BranchKind::cutoff;
            return is_switch && std::ranges::find(control.drives, branch.part) != control.drives.end();
        });
        if (is_driven) driven.push_back(&heater);
    }
    return driven;
}

void write_running(SubjectWriter& writer, const ControlHeat& heat) {
    writer.truth("reaches_setpoint", heat.reaches);
    writer.number("time_to_setpoint",
                  {heat.reaches && heat.time_to_setpoint ? heat.time_to_setpoint->si : never, dim::time});
    writer.number("cold_temperature", any(heat.cold_temperature));
    writer.number("overshoot", any(heat.overshoot));
    writer.number("band_held", any(heat.band_held));
    writer.number("cold_duty", {heat.duty_cold, dim::number});
    writer.number("hot_duty", {heat.duty_hot, dim::number});
    writer.number("mean_power", any(heat.mean_power));
    writer.number("energy_per_hour", {heat.mean_power.si * 3600.0, dim::energy});
}

std::optional<std::uint32_t> index_of_control(const Gathering& from, std::uint32_t control) {
    const auto& controls = from.analysis.heat_inputs.controls;
    for (std::uint32_t i = 0; i < controls.size(); ++i)
        if (controls[i].of_design == control) return i;
    return std::nullopt;
}

// Follows from bodies and paths alone: no number is needed.
void write_sight(SubjectWriter& writer, const Gathering& from, std::optional<std::uint32_t> index,
                 const std::vector<const HeaterProtection*>& heaters) {
    if (!index) return writer.unknown("sees_heater", why_no_heat(from, false));
    const HeatControl& control = from.analysis.heat_inputs.controls[*index];
    if (!control.senses) return writer.unknown("sees_heater", Unknown{control.missing, {}});
    std::vector<BodyId> warmed;
    std::string unplaced;
    for (const HeaterProtection* heater : heaters) {
        const PartId part = from.branch(heater->heater).part;
        if (const auto body = heated_body(from.design, part))
            warmed.push_back(*body);
        else
            unplaced = from.design.part(part).name;
    }
    const bool sees = heat_reaches(from, warmed, *control.senses);
    if (sees || unplaced.empty()) return writer.truth("sees_heater", sees);
    writer.unknown("sees_heater",
                   Unknown{{fmt::format("the body that {} heats (name it in heated_by of a [[body]])", unplaced)}, {}});
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
        const auto index = index_of_control(to, i);
        const Unknown why = why_no_running(to);
        if (index && why.missing.empty() && why.reasons.empty())
            write_running(writer, to.analysis.heat.controls[*index]);
        else
            for (const auto fact : {"reaches_setpoint", "time_to_setpoint", "cold_temperature", "overshoot",
                                    "band_held", "cold_duty", "hot_duty", "mean_power", "energy_per_hour"})
                writer.unknown(fact, why);
        control.setpoint ? writer.number("setpoint", any(control.setpoint->value.hi), control.setpoint->place)
                         : writer.absent("setpoint", "setpoint");
        const auto heaters = driven_heaters(to, control);
        std::size_t fewest = heaters.empty() ? 0 : heaters.front()->independent();
        for (const HeaterProtection* heater : heaters) fewest = std::min(fewest, heater->independent());
        write_sight(writer, to, index, heaters);
        writer.truth("drives_heater", !heaters.empty());
        writer.number("independent_cutoffs", {static_cast<double>(fewest), dim::number});
        writer.truth("states_firmware_limit", control.firmware_limit.has_value());
        control.firmware_limit
            ? writer.number("firmware_limit", any(control.firmware_limit->value.lo), control.firmware_limit->place)
            : writer.absent("firmware_limit", "firmware_limit");
    }
}

namespace {

struct Pace {
    bool cycled = false;
    double per_hour = 0.0;
    Unknown why; // empty: it is known
};

// A proportional control closes a contact once each time it looks, at most.
Pace pace_of(const Gathering& from, PartId part) {
    Pace pace;
    for (std::uint32_t i = 0; i < from.design.controls.size(); ++i) {
        const Control& control = from.design.controls[i];
        if (std::ranges::find(control.drives, part) == control.drives.end()) continue;
        pace.cycled = true;
        const Unknown running = why_no_running(from);
        if (control.proportional && control.every) {
            pace.per_hour = std::max(pace.per_hour, 3600.0 / control.every->value.lo.si);
        } else if (control.proportional) {
            pace.why.missing.push_back(
                fmt::format("every of the control {} (state there how often it switches)", control.name));
        } else if (running.missing.empty() && running.reasons.empty()) {
            const ControlHeat& heat = from.analysis.heat.controls[*index_of_control(from, i)];
            pace.per_hour = std::max(pace.per_hour, heat.operations_per_hour);
        } else {
            pace.why = running;
        }
    }
    return pace;
}

} // namespace

void write_cycling(SubjectWriter& writer, const Gathering& from, BranchId id, const ContactElement& contact) {
    writer.highest("endurance", "endurance", contact.endurance);
    const Pace pace = pace_of(from, from.branch(id).part);
    writer.truth("cycled", pace.cycled);
    if (!pace.why.missing.empty() || !pace.why.reasons.empty()) {
        writer.unknown("operations_per_hour", pace.why);
        return writer.unknown("life", pace.why);
    }
    writer.number("operations_per_hour", {pace.per_hour, dim::number});
    if (!contact.endurance) return writer.absent("life", "endurance");
    const double hours = pace.per_hour > 0.0 ? contact.endurance->range.lo.si / pace.per_hour : never;
    writer.number("life", {hours * 3600.0, dim::time}, contact.endurance->place,
                  SubjectWriter::certainty_of(contact.endurance->basis));
}

} // namespace trivet
