#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace trivet {

namespace {

std::string remark_on(const Gathering& from, const CutoffVerdict& verdict) {
    const std::string name = subject_name(from, from.branch(verdict.cutoff));
    const std::string other = verdict.other ? from.design.part(*verdict.other).name : std::string{};
    switch (verdict.fault.value_or(CutoffFault::other_circuit)) {
    case CutoffFault::drive_circuit:
        return fmt::format("{} opens the drive of {}, so a welded contact of {} defeats it", name, other, other);
    case CutoffFault::bypassed:
        return fmt::format("heater current has a second way around {}", name);
    case CutoffFault::shares_part:
        return fmt::format("{} is part of {}, which also controls the heater", name, other);
    case CutoffFault::is_the_control:
        return fmt::format("{} is what regulates the heater, and a control cannot back itself up", name);
    case CutoffFault::other_circuit:
        break;
    }
    return fmt::format("{} is in another circuit", name);
}

// Why the design's cutoffs do not count for this heater, in one sentence.
std::string remark_on(const Gathering& from, const HeaterProtection& heater) {
    std::string text;
    for (const CutoffVerdict& verdict : heater.cutoffs) {
        if (!verdict.fault) continue;
        if (!text.empty()) text += "; ";
        text += remark_on(from, verdict);
    }
    if (text.empty())
        return heater.cutoffs.empty() ? "there is no thermal cutoff in its circuit" : "its cutoffs are independent";
    return text;
}

// Highest power from the highest voltage and the lowest resistance; both belong to the corner of the highest voltage.
void write_power(SubjectWriter& writer, const Gathering& from, BranchId id) {
    const Extreme volts = largest(from.analysis.envelope.voltage[id.value]);
    const double ohms = from.circuit().parameters[from.branch(id).first_parameter].lo;
    Extreme watts = volts;
    watts.value = volts.value * volts.value / ohms;
    write_current(writer, from, id, "highest_power", watts, dim::power);
}

} // namespace

void gather_heaters(Gathering& to) {
    for (const HeaterProtection& heater : to.analysis.protection) {
        const Branch& branch = to.branch(heater.heater);
        SubjectWriter writer(to, SubjectKind::heater, branch);
        const auto& element = std::get<HeaterElement>(to.element_of(branch).body);
        write_current(writer, to, heater.heater, "highest_voltage",
                      largest(to.analysis.envelope.voltage[heater.heater.value]), dim::voltage);
        writer.highest("rated_voltage", "voltage", element.voltage);
        write_power(writer, to, heater.heater);
        writer.number("interrupting_cutoffs", {static_cast<double>(heater.interrupting()), dim::number});
        writer.number("independent_cutoffs", {static_cast<double>(heater.independent()), dim::number});
        writer.text("cutoff_remark", remark_on(to, heater));
        write_heater_place(writer, to, to.part_of(branch), branch.part);
        write_breaches(writer, to, heater.heater);
    }
}

void gather_cutoffs(Gathering& to) {
    for_each_element<CutoffElement>(to, BranchKind::cutoff, [&](BranchId id, const CutoffElement& cutoff) {
        const Branch& branch = to.branch(id);
        SubjectWriter writer(to, SubjectKind::cutoff, branch);
        const bool guards = std::ranges::any_of(to.analysis.loads_behind[id.value], [&](BranchId load) {
            return to.branch(load).kind == BranchKind::heater;
        });
        writer.truth("in_heater_path", guards);
        write_current(writer, to, id, "current", largest(to.analysis.envelope.current[id.value]));
        const Extreme volts = unloaded_voltage(to, id);
        write_voltage(writer, to, id, "voltage", volts);
        write_contact_rating(writer, cutoff.rated, LoadCategory::resistive, volts.value);
        write_cutoff_heat(writer, to, id, cutoff);
    });
}

} // namespace trivet
