#include "assess/gather.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trivet {

namespace {

std::size_t count_of(const FaultTable& table, FaultClass outcome) {
    return table.count.at(static_cast<std::size_t>(outcome));
}

std::string ends_of(const FaultRow& row) {
    if (row.heat && row.heat->passed)
        return fmt::format("{} gets {}", row.heat->passed->body, to_text(row.heat->passed->reached));
    return row.stuck_on.empty() ? "heat goes on" : row.stuck_on.front() + " stays on";
}

bool is_of_converter(const FaultRow& row) {
    return row.mode == fault_mode_names[static_cast<std::size_t>(FaultMode::passes_through)] &&
           row.outcome == FaultClass::damages && !row.exceeded.empty();
}

void write_converter_faults(SubjectWriter& writer, const Gathering& from) {
    const auto& rows = from.single_faults.rows;
    const auto first = std::ranges::find_if(rows, is_of_converter);
    writer.number("converter_fault_damages",
                  {static_cast<double>(std::ranges::count_if(rows, is_of_converter)), dim::number});
    if (first == rows.end()) return writer.text("converter_fault", "none does");
    const FaultRow::Excess& excess = first->exceeded.front();
    writer.text("converter_fault", fmt::format("{}, and {} gets {} where it bears {}", first->fault, excess.of,
                                               to_text(excess.value), to_text(excess.limit)));
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
    const std::size_t hazards = count_of(from.single_faults, FaultClass::hazard);
    if (hazards == 0 && count_of(from.single_faults, FaultClass::cannot_tell) > 0)
        writer.unknown("single_fault_hazards", why_no_heat(from, true));
    else
        writer.number("single_fault_hazards", {static_cast<double>(hazards), dim::number});
    const bool any = hazards > 0 && !from.single_faults.rows.empty();
    writer.text("worst_single_fault", any ? fmt::format("{}, and {}", from.single_faults.rows.front().fault,
                                                        ends_of(from.single_faults.rows.front()))
                                          : "none");
    write_converter_faults(writer, from);
}

void write_breaches(SubjectWriter& writer, const Gathering& from, BranchId heater) {
    const auto& all = from.analysis.breaches;
    const auto of_heater = [&](const Breach& breach) { return breach.heater == heater; };
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
    writer.number("signal_detours", {static_cast<double>(count), dim::number});
    writer.text("signal_detour", worst);
}

} // namespace trivet
