#include "assess/gather.h"
#include "thermal/heat_model.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>

namespace trivet {

namespace {

bool has_mode(const FaultRow& row, FaultMode mode) {
    return row.mode == fault_mode_names[static_cast<std::size_t>(mode)];
}

// No standard asks what a heater does that is shorted inside, and one temperature for all of it says little about its
// sound half. A battery's short circuit is a matter of its fuse.
bool leads_to_heat(const FaultRow& row) {
    const bool is_heat = (row.heat && row.heat->passed) || !row.missing.empty();
    return row.outcome == FaultClass::hazard && is_heat && !has_mode(row, FaultMode::half_shorted);
}

double excess_of(const FaultRow& row) {
    return row.heat && row.heat->passed ? (row.heat->passed->reached - row.heat->passed->limit_at).si
                                        : std::numeric_limits<double>::infinity();
}

std::string in_words(const FaultRow& row) {
    if (row.heat && row.heat->passed)
        return fmt::format("with '{}', {} gets {}, and at most {} is allowed there ({})", row.fault,
                           row.heat->passed->body, to_text(row.heat->passed->reached),
                           to_text(row.heat->passed->limit_at), row.heat->passed->limit);
    return fmt::format("with '{}', {} stays on and nothing ends it", row.fault,
                       row.stuck_on.empty() ? "the heat" : row.stuck_on.front());
}

// What keeps the heat of some fault, or its limit, from being known.
Unknown why_no_outcome(const Gathering& from) {
    Unknown why = why_no_heat(from, true);
    if (!why.missing.empty() || !why.reasons.empty()) return why;
    const auto add = [&](std::string item) {
        if (std::ranges::find(why.missing, item) == why.missing.end()) why.missing.push_back(std::move(item));
    };
    for (const FaultRow& row : from.single_faults.rows)
        if (row.outcome == FaultClass::cannot_tell)
            for (const std::string& item : row.missing) add(item);
    for (const Body& body : from.design.bodies)
        if (!body.limit && (!body.made_of || !body.made_of->limit))
            why.missing.push_back(fmt::format("limit of {} (state it in its [[body]] '{}')", body.name, body.name));
    return why;
}

// Whether the rules about sticking switches find nothing too hot, so that only other faults are left to be told.
void write_stuck_case(SubjectWriter& writer, const Gathering& from) {
    if (from.analysis.protection.empty()) return writer.truth("stuck_heat_survived", true);
    const Unknown why = why_no_heat(from, true);
    if (!why.missing.empty() || !why.reasons.empty()) return writer.unknown("stuck_heat_survived", why);
    writer.truth("stuck_heat_survived", std::ranges::none_of(heat_limits(from.design), [&](const HeatLimit& limit) {
                     const auto& guarded = from.analysis.heat.bodies[limit.body.value].guarded.value;
                     return guarded && *guarded > limit.highest;
                 }));
}

void write_hazards(SubjectWriter& writer, const Gathering& from) {
    const FaultRow* worst = nullptr;
    double count = 0.0;
    for (const FaultRow& row : from.single_faults.rows) {
        if (!leads_to_heat(row)) continue;
        ++count;
        if (worst == nullptr || excess_of(row) > excess_of(*worst)) worst = &row;
    }
    writer.text("worst_single_fault", worst == nullptr ? "none does" : in_words(*worst));
    const bool heats = !from.analysis.protection.empty();
    const Unknown why = heats && count < 1.0 ? why_no_outcome(from) : Unknown{};
    if (why.missing.empty() && why.reasons.empty())
        writer.number("single_fault_hazards", {count, dim::number});
    else
        writer.unknown("single_fault_hazards", why);
}

// A board's own regulator that ruins the board is the board's failure, and nobody can add anything in between.
bool ruins_itself(const Gathering& from, const FaultRow& row, const FaultRow::Excess& excess) {
    return std::ranges::any_of(from.design.parts, [&](const PartUse& use) {
        return use.place == row.place && (excess.of == use.name || excess.of.starts_with(use.name + "."));
    });
}

const FaultRow::Excess* ruined_by_converter(const Gathering& from, const FaultRow& row) {
    if (!has_mode(row, FaultMode::passes_through)) return nullptr;
    const auto found = std::ranges::find_if(row.exceeded, [&](const FaultRow::Excess& excess) {
        const bool is_voltage = excess.kind == Excess::voltage || excess.kind == Excess::pin_voltage;
        return is_voltage && !ruins_itself(from, row, excess);
    });
    return found == row.exceeded.end() ? nullptr : &*found;
}

// What hangs on a converter that may pass its input through, and states no voltage that it bears.
Unknown unrated_consumers(const Gathering& from) {
    Unknown why;
    for (const Branch& converter : from.circuit().branches) {
        if (converter.kind != BranchKind::converter) continue;
        const auto& element = std::get<ConverterElement>(from.element_of(converter).body);
        if (element.topology == Topology::isolated) continue;
        const IslandId fed = from.circuit().island_of_node[converter.output_from.value];
        for (const Branch& branch : from.circuit().branches) {
            if (branch.kind != BranchKind::load || branch.part == converter.part || from.island_of(branch) != fed)
                continue;
            const auto& load = std::get<LoadElement>(from.element_of(branch).body);
            const std::string& name = from.part_of(branch).name;
            if (!load.voltage && !load.voltage_limit)
                why.missing.push_back(fmt::format("voltage_limit of {} (state it in [part.{}])", name, name));
        }
    }
    return why;
}

void write_converter_faults(SubjectWriter& writer, const Gathering& from) {
    double count = 0.0;
    std::string first = "none does";
    for (const FaultRow& row : from.single_faults.rows) {
        const FaultRow::Excess* excess = ruined_by_converter(from, row);
        if (excess == nullptr) continue;
        if (count < 1.0)
            first = fmt::format("when {}, {} gets {}, and it bears {}", row.fault, excess->of, to_text(excess->value),
                                to_text(excess->limit));
        ++count;
    }
    writer.text("converter_fault", first);
    const Unknown why = count < 1.0 ? unrated_consumers(from) : Unknown{};
    if (why.missing.empty())
        writer.number("converter_fault_damages", {count, dim::number});
    else
        writer.unknown("converter_fault_damages", why);
}

// A wire whose current says or measures something: it ends on a board or a sensor.
bool carries_signals(const Gathering& from, const Wire& wire) {
    return std::ranges::any_of(std::array{wire.from.part, wire.to.part}, [&](PartId part) {
        return std::ranges::any_of(from.design.part(part).part->elements, [](const Element& element) {
            return std::holds_alternative<PinElement>(element.body) ||
                   std::holds_alternative<SignalElement>(element.body);
        });
    });
}

// A cutoff that fails on a heater that nothing switches: it is on by design, and its guard's own failure is latent.
bool only_loses_its_guard(const Gathering& from, const Breach& breach) {
    if (!breach.shorted || breach.insulation) return false;
    return std::ranges::any_of(from.analysis.protection, [&](const HeaterProtection& heater) {
        return heater.heater == breach.heater && std::ranges::any_of(heater.cutoffs, [&](const CutoffVerdict& verdict) {
                   return !verdict.fault && from.branch(verdict.cutoff).part == *breach.shorted;
               });
    });
}

std::string in_words(const Gathering& from, const Breach& breach) {
    std::string cause;
    if (breach.shorted) cause = fmt::format("{} shorted", from.design.part(*breach.shorted).name);
    if (breach.insulation)
        cause += fmt::format("{}its insulation failing against the metal of {}", cause.empty() ? "" : " and ",
                             from.design.part(breach.insulation->owner).name);
    if (cause.empty()) cause = "nothing failing at all";
    return cause + (breach.past_switches ? ", even with every switch off" : "");
}

} // namespace

void write_single_faults(SubjectWriter& writer, const Gathering& from) {
    const auto& protection = from.analysis.protection;
    writer.truth("heaters_guarded", std::ranges::all_of(protection, [](const HeaterProtection& heater) {
                     return heater.independent() > 0;
                 }));
    write_stuck_case(writer, from);
    write_hazards(writer, from);
    write_converter_faults(writer, from);
}

void write_breaches(SubjectWriter& writer, const Gathering& from, BranchId heater) {
    const auto& all = from.analysis.breaches;
    const auto of_heater = [&](const Breach& breach) {
        return breach.heater == heater && !only_loses_its_guard(from, breach);
    };
    const auto first = std::ranges::find_if(all, of_heater);
    writer.number("breaches", {static_cast<double>(std::ranges::count_if(all, of_heater)), dim::number});
    writer.text("breach", first == all.end() ? "nothing gets past" : in_words(from, *first));

    std::size_t count = 0;
    double most = 0.0;
    std::string worst = "none does";
    for (const ReturnDetour& detour : from.analysis.detours) {
        if (std::ranges::find(detour.heaters, heater) == detour.heaters.end()) continue;
        for (const Detour& way : detour.detours) {
            const Branch& branch = from.branch(way.branch);
            if (branch.kind != BranchKind::wire || !carries_signals(from, from.design.wire(branch.wire))) continue;
            ++count;
            if (way.after <= most) continue;
            most = way.after;
            worst = fmt::format("with {} off, {} carries {}", from.design.wire(detour.opened).name,
                                from.design.wire(branch.wire).name, to_text(Current{way.after}));
        }
    }
    const Unknown& gap = from.analysis.gaps[from.island_of(from.branch(heater)).value];
    if (count == 0 && !gap.missing.empty())
        writer.unknown("signal_detours", gap);
    else
        writer.number("signal_detours", {static_cast<double>(count), dim::number});
    writer.text("signal_detour", worst);
}

} // namespace trivet
