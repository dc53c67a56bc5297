#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace trivet {

FactTable gather_facts(const Design& design, const Analysis& analysis, const FaultTable& single_faults,
                       const Handbook& handbook) {
    FactTable facts;
    Gathering to{design, analysis, single_faults, handbook, facts};
    gather_build(to);
    gather_supplies(to);
    gather_wires(to);
    gather_terminals(to);
    gather_fuses(to);
    gather_contacts(to);
    gather_transistors(to);
    gather_converters(to);
    gather_loads(to);
    gather_heaters(to);
    gather_cutoffs(to);
    gather_pins(to);
    gather_sensors(to);
    gather_bodies(to);
    gather_controls(to);
    gather_placed_parts(to);
    return facts;
}

void gather_build(Gathering& to) {
    SubjectWriter writer(to, SubjectKind::build, "the build", {to.design.file, 1, 1}, "[build]");
    bool mains = false;
    for (const Wire& wire : to.design.wires)
        for (const TerminalRef end : {wire.from, wire.to})
            mains = mains || to.design.part(end.part).part->terminals[end.terminal.value].mains;
    writer.truth("mains_wired", mains);
    const auto& voltages = to.analysis.highest_voltage;
    const Voltage highest = voltages.empty() ? Voltage{} : *std::ranges::max_element(voltages);
    Unknown gap;
    for (const Unknown& of_island : to.analysis.voltage_gaps)
        gap.missing.insert(gap.missing.end(), of_island.missing.begin(), of_island.missing.end());
    if (gap.missing.empty())
        writer.number("highest_voltage", any(highest));
    else
        writer.unknown("highest_voltage", gap);
    write_single_faults(writer, to);
}

Temperature hottest_ambient(const Design& design, const PartUse& use) {
    return use.ambient ? use.ambient->value.hi : design.ambient.value.hi;
}

void write_current(SubjectWriter& writer, const Gathering& from, BranchId branch, std::string_view fact,
                   const Extreme& extreme, Dimension dimension) {
    const Unknown& gap = from.analysis.gaps[from.island_of(from.branch(branch)).value];
    gap.missing.empty() ? writer.extreme(fact, extreme, dimension) : writer.unknown(fact, gap);
}

void write_voltage(SubjectWriter& writer, const Gathering& from, BranchId branch, std::string_view fact,
                   const Extreme& extreme, Dimension dimension) {
    const Unknown& gap = from.analysis.voltage_gaps[from.island_of(from.branch(branch)).value];
    gap.missing.empty() ? writer.extreme(fact, extreme, dimension) : writer.unknown(fact, gap);
}

bool is_reversed(const Gathering& from, BranchId branch, const Span& voltage) {
    constexpr double noise = 0.1; // V, as in the rules of polarity
    return voltage.highest.value < -noise &&
           from.analysis.gaps[from.island_of(from.branch(branch)).value].missing.empty();
}

Extreme unloaded_voltage(const Gathering& from, BranchId branch) {
    constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
    return {from.analysis.highest_voltage[from.island_of(from.branch(branch)).value].si, none, none};
}

Unknown unstated_feed(const Gathering& from, BranchId branch) {
    const std::uint32_t island = from.island_of(from.branch(branch)).value;
    if (!from.analysis.voltage_gaps[island].missing.empty()) return from.analysis.voltage_gaps[island];
    if (!from.analysis.limit_gaps[island].missing.empty()) return from.analysis.limit_gaps[island];
    return {{"limit_current of the supply that feeds it (state it in the supply's [part.NAME])"}, {}};
}

std::optional<Unknown> unrated_fuse(const Gathering& from, const BranchFault& fault) {
    if (!fault.fuse || std::isfinite(fault.operating_current)) return std::nullopt;
    const Branch& fuse = from.branch(*fault.fuse);
    return not_stated("rated_current", subject_name(from, fuse), fmt::format("[part.{}]", from.part_of(fuse).name));
}

void write_fault(SubjectWriter& writer, const Gathering& from, BranchId branch) {
    const BranchFault& fault = from.analysis.faults.branch[branch.value];
    if (fault.limit_unstated)
        writer.unknown("fault_current", unstated_feed(from, branch));
    else
        writer.number("fault_current", {fault.highest, dim::current});
    const double unfused = std::numeric_limits<double>::infinity();
    if (const auto unrated = unrated_fuse(from, fault))
        writer.unknown("fuse_operating_current", *unrated);
    else
        writer.number("fuse_operating_current", {fault.fuse ? fault.operating_current : unfused, dim::current});
}

std::vector<std::string> wires_without_length(const Gathering& from, BranchId id) {
    std::vector<std::string> missing;
    const double own = largest(from.analysis.envelope.current[id.value]).value;
    for (const BranchId other : from.circuit().branches_of_island[from.island_of(from.branch(id)).value]) {
        const Branch& branch = from.branch(other);
        if (branch.kind != BranchKind::wire || from.circuit().parameters[branch.first_parameter].stated) continue;
        if (largest(from.analysis.envelope.current[other.value]).value < 0.1 * own) continue;
        const Wire& wire = from.design.wire(branch.wire);
        const auto add = [&](std::string_view key) {
            missing.push_back(fmt::format("{} of {} (state it where the wire is)", key, wire.name));
        };
        if (!wire.length) add("length");
        if (!wire.made_of.area) add("area");
    }
    return missing;
}

} // namespace trivet
