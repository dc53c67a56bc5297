#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace trivet {

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

template <class Body> bool has(const Part& part) {
    return std::ranges::any_of(part.elements,
                               [](const Element& element) { return std::holds_alternative<Body>(element.body); });
}

std::vector<BodyId> bodies_heated_through(const Gathering& from, BranchId cutoff) {
    std::vector<BodyId> bodies;
    for (const BranchId load : from.analysis.loads_behind[cutoff.value]) {
        const Branch& branch = from.branch(load);
        if (branch.kind != BranchKind::heater) continue;
        if (const auto body = heated_body(from.design, branch.part)) bodies.push_back(*body);
    }
    return bodies;
}

Unknown no_body_of(const Gathering& from, std::string_view heater) {
    Unknown why = why_no_heat(from, false);
    if (from.analysis.heat.described)
        why.missing.push_back(fmt::format("the body that {} heats (name it in heated_by of a [[body]])", heater));
    return why;
}

// Why nobody knows the body that a cutoff sits on.
Unknown unplaced(const Gathering& from, const PartUse& use) {
    if (!from.analysis.heat.described) return why_no_heat(from, false);
    if (use.mounted_on) return no_body_of(from, use.mounted_on_name);
    return not_stated("mounted_on", use.name, fmt::format("[part.{}]", use.name));
}

void write_place(SubjectWriter& writer, const Gathering& from, BranchId id) {
    const PartUse& use = from.part_of(from.branch(id));
    if (!use.on_body) {
        const Unknown why = unplaced(from, use);
        writer.unknown("place", why);
        return writer.unknown("on_heated_body", why);
    }
    writer.text("place", from.design.body(*use.on_body).name);
    writer.truth("on_heated_body", heat_reaches(from, bodies_heated_through(from, id), *use.on_body));
}

// How the wires end on its terminals; soldering heat ages or opens a link before it is ever used.
void write_leads(SubjectWriter& writer, const Gathering& from, PartId part) {
    bool soldered = false;
    bool stated = true;
    const auto look_at = [&](TerminalRef end, WireEnd method) {
        if (end.part != part) return;
        soldered = soldered || method == WireEnd::soldered || method == WireEnd::tinned;
        stated = stated && method != WireEnd::unstated;
    };
    const auto terminals = static_cast<std::uint16_t>(from.design.part(part).part->terminals.size());
    for (std::uint16_t i = 0; i < terminals; ++i)
        for (const WireId id : from.analysis.nets.wires[from.analysis.nets.net(from.circuit(), {part, {i}}).value]) {
            const Wire& wire = from.design.wire(id);
            look_at(wire.from, wire.from_end);
            look_at(wire.to, wire.to_end);
        }
    if (soldered || stated)
        writer.truth("leads_crimped", !soldered);
    else
        writer.unknown("leads_crimped",
                       Unknown{{fmt::format("how the wires on {} are joined to it (write "
                                            "ends=unstated/crimped, or the other way round, on such a wire)",
                                            from.design.part(part).name)},
                               {}});
}

const CutoffHeat* heat_of(const Gathering& from, BranchId id) {
    const auto& cutoffs = from.analysis.heat_inputs.cutoffs;
    const auto found = std::ranges::find(cutoffs, id.value, &HeatCutoff::branch);
    return found == cutoffs.end() ? nullptr
                                  : &from.analysis.heat.cutoffs[static_cast<std::size_t>(found - cutoffs.begin())];
}

Unknown unplaced(const Gathering& from, BranchId id, const Unknown& otherwise) {
    const PartUse& use = from.part_of(from.branch(id));
    return use.on_body ? otherwise : unplaced(from, use);
}

void write_window(SubjectWriter& writer, const Gathering& from, BranchId id, const CutoffHeat& heat) {
    writer.hottest("normal_temperature", heat.normal, unplaced(from, id, why_no_running(from)));
    const Unknown why = unplaced(from, id, why_no_heat(from, true));
    writer.hottest("stuck_temperature", heat.stuck, why);
    if (!heat.stuck.value || !why.missing.empty() || !why.reasons.empty()) {
        const bool said = !why.missing.empty() || !why.reasons.empty();
        const Unknown reason = said ? why : Unknown{{}, {"no heater that it guards heats a body"}};
        for (const auto fact : {"highest_safe_trip", "closed_by", "operating_time"}) writer.unknown(fact, reason);
        return;
    }
    writer.number("highest_safe_trip", {heat.highest_safe ? heat.highest_safe->si : never, dim::temperature});
    std::string closed_by = heat.closed_by.empty() ? "no limit" : heat.closed_by;
    if (heat.closed_in != 0) closed_by += " (" + from.analysis.heat.situations[heat.closed_in].text + ")";
    writer.text("closed_by", closed_by);
    writer.number("operating_time", {heat.operating_time ? heat.operating_time->si : never, dim::time});
}

bool is_backed_up(const Gathering& from, BranchId id) {
    for (const HeaterProtection& heater : from.analysis.protection) {
        const bool guards =
            std::ranges::any_of(heater.cutoffs, [&](const CutoffVerdict& v) { return v.cutoff == id && v.interrupts; });
        if (!guards) continue;
        const bool other = std::ranges::any_of(heater.cutoffs, [&](const CutoffVerdict& v) {
            if (v.cutoff == id || v.fault) return false;
            return std::get<CutoffElement>(from.element_of(from.branch(v.cutoff)).body).reset != CutoffReset::self;
        });
        if (!other) return false;
    }
    return true;
}

void write_cycling_life(SubjectWriter& writer, const CutoffElement& cutoff, const CutoffHeat* heat,
                        const Unknown& why) {
    if (heat == nullptr || !why.missing.empty() || !why.reasons.empty()) return writer.unknown("cycling_life", why);
    if (!heat->operating_time) return writer.number("cycling_life", {never, dim::time});
    if (!cutoff.reset_temperature) return writer.absent("cycling_life", "reset_temperature");
    if (!cutoff.endurance) return writer.absent("cycling_life", "endurance");
    if (!heat->cycle) return writer.number("cycling_life", {never, dim::time});
    writer.number("cycling_life", {cutoff.endurance->range.lo.si * heat->cycle->si, dim::time}, cutoff.endurance->place,
                  SubjectWriter::certainty_of(cutoff.endurance->basis));
}

std::string hottest_name(const Gathering& from, const std::vector<BodyId>& places) {
    if (places.empty()) return "nothing";
    const auto guarded = [&](BodyId id) {
        return from.analysis.heat.bodies[id.value].guarded.value.value_or(Temperature{});
    };
    return from.design.body(*std::ranges::max_element(places, {}, guarded)).name;
}

void write_hottest_of(SubjectWriter& writer, const Gathering& from, const std::vector<BodyId>& places,
                      std::string_view normal_fact, std::string_view guarded_fact) {
    Hottest normal;
    Hottest guarded;
    for (const BodyId place : places) {
        const BodyHeat& heat = from.analysis.heat.bodies[place.value];
        if (!normal.value || (heat.normal.value && *heat.normal.value > *normal.value)) normal = heat.normal;
        if (!guarded.value || (heat.guarded.value && *heat.guarded.value > *guarded.value)) guarded = heat.guarded;
    }
    writer.hottest(normal_fact, normal, why_no_running(from));
    writer.hottest(guarded_fact, guarded, why_no_heat(from, true));
}

} // namespace

void write_cutoff_heat(SubjectWriter& writer, const Gathering& from, BranchId id, const CutoffElement& cutoff) {
    write_place(writer, from, id);
    write_leads(writer, from, from.branch(id).part);
    writer.truth("one_shot", cutoff.reset == CutoffReset::one_shot);
    writer.truth("resets_itself", cutoff.reset == CutoffReset::self);
    writer.lowest("lowest_trip", "trip", cutoff.trip);
    writer.highest("highest_trip", "trip", cutoff.trip);
    writer.lowest("holding_temperature", "holding_temperature", cutoff.holding_temperature);
    writer.lowest("endurance", "endurance", cutoff.endurance);
    const bool regulates = std::ranges::any_of(from.analysis.protection, [&](const HeaterProtection& heater) {
        return std::ranges::any_of(heater.cutoffs, [&](const CutoffVerdict& v) {
            return v.cutoff == id && v.fault == CutoffFault::is_the_control;
        });
    });
    writer.truth("regulates", regulates);
    writer.truth("backed_up", is_backed_up(from, id));
    if (from.design.attended)
        writer.truth("attended", from.design.attended->value, from.design.attended->place);
    else
        writer.unknown("attended", not_stated("attended", "the build", "[build]"));
    const CutoffHeat* heat = heat_of(from, id);
    const Unknown why = unplaced(from, id, why_no_heat(from, true));
    const Unknown is_control{{}, {"it is the control itself, not a cutoff"}};
    if (heat != nullptr)
        write_window(writer, from, id, *heat);
    else
        for (const auto fact :
             {"normal_temperature", "stuck_temperature", "highest_safe_trip", "closed_by", "operating_time"})
            writer.unknown(fact, from.analysis.heat.described ? is_control : why);
    write_cycling_life(writer, cutoff, heat, why);
}

void write_wire_place(SubjectWriter& writer, const Gathering& from, const Wire& wire) {
    std::vector<BodyId> places;
    for (const auto& body :
         {from.design.part(wire.from.part).on_body, from.design.part(wire.to.part).on_body, wire.beside_body})
        if (body) places.push_back(*body);
    writer.truth("near_heat", !places.empty());
    writer.text("touched_body", hottest_name(from, places));
    if (places.empty()) {
        const AnyQuantity air = any(wire.ambient ? wire.ambient->value.hi : from.design.ambient.value.hi);
        writer.number("normal_place_temperature", air);
        return writer.number("place_temperature", air);
    }
    write_hottest_of(writer, from, places, "normal_place_temperature", "place_temperature");
}

void write_heater_place(SubjectWriter& writer, const Gathering& from, const PartUse& use, PartId part) {
    const auto body = heated_body(from.design, part);
    if (!body) {
        const Unknown why = no_body_of(from, use.name);
        from.analysis.heat.described ? writer.truth("described", false) : writer.unknown("described", why);
        return writer.unknown("stuck_temperature", why);
    }
    writer.truth("described", true);
    writer.hottest("stuck_temperature", from.analysis.heat.bodies[body->value].stuck, why_no_heat(from, false));
}

void gather_placed_parts(Gathering& to) {
    for (const PartUse& use : to.design.parts) {
        const auto place = use.on_body ? use.on_body : use.beside_body;
        if (!place || has<CutoffElement>(*use.part)) continue; // a cutoff's place has rules of its own
        SubjectWriter writer(to, SubjectKind::part, use.name, use.place, fmt::format("[part.{}]", use.name));
        writer.text("place", to.design.body(*place).name);
        writer.truth("beside", !use.on_body);
        writer.truth("is_heater", has<HeaterElement>(*use.part));
        writer.lowest("temperature_limit", "temperature_limit", use.part->temperature_limit);
        write_hottest_of(writer, to, {*place}, "normal_temperature", "guarded_temperature");
    }
}

} // namespace trivet
