#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace trivet {

namespace {

// A conductor counts as heating its bundle above this density: about 30 % of the rating of the sizes in use here, the
// share below which IEC 60364-5-52 lets a circuit be ignored.
constexpr double heating_density = 1.0e6; // A/m²

// Number of conductors in each bundle that heat it.
std::map<std::string_view, int> loaded_conductors(const Gathering& from) {
    std::map<std::string_view, int> count;
    for (std::uint32_t i = 0; i < from.design.wires.size(); ++i) {
        const Wire& wire = from.design.wires[i];
        if (wire.bundle.empty() || !wire.made_of.area) continue;
        const double amperes = largest(from.analysis.envelope.current[from.circuit().wire_branch[i].value]).value;
        if (amperes > heating_density * wire.made_of.area->range.lo.si) ++count[wire.bundle];
    }
    return count;
}

// Outputs that drive each net: plus terminals of supplies, outputs of converters, pins the firmware drives.
std::vector<int> outputs_of_nets(const Gathering& from) {
    std::vector<int> count(from.analysis.nets.wires.size(), 0);
    const auto& net_of_node = from.analysis.nets.of_node;
    for (const Branch& branch : from.circuit().branches) {
        if (branch.kind == BranchKind::source) ++count[net_of_node[branch.from.value].value];
        if (branch.kind == BranchKind::converter) ++count[net_of_node[branch.output_from.value].value];
    }
    for (std::uint32_t i = 0; i < from.design.parts.size(); ++i) {
        const PartUse& use = from.design.parts[i];
        for (const auto& [terminal, mode] : use.pins) {
            const int index = use.part->terminal(terminal);
            if (index < 0 || (mode.value != "digital-out" && mode.value != "pwm")) continue;
            const TerminalRef ref{{i}, {static_cast<std::uint16_t>(index)}};
            ++count[from.analysis.nets.net(from.circuit(), ref).value];
        }
    }
    return count;
}

// Wires between a battery and its first fuse, where every way meets one.
std::vector<bool> before_battery_fuse(const Gathering& from) {
    std::vector<bool> before(from.design.wires.size(), false);
    for (const auto& [source, run] : from.analysis.unfused) {
        const auto& element = std::get<SourceElement>(from.element_of(from.branch({source})).body);
        if (!element.is_battery || !run.ends_in_fuses()) continue;
        for (const WireId wire : run.wires) before[wire.value] = true;
    }
    return before;
}

void write_conductor(SubjectWriter& writer, const Gathering& from, const Wire& wire) {
    writer.lowest("area", "area", wire.made_of.area);
    if (wire.made_of.insulation.empty())
        writer.absent("insulation", "insulation");
    else
        writer.text("insulation", wire.made_of.insulation);
    writer.lowest("insulation_class", "insulation_class", wire.made_of.insulation_class);
    const Temperature hottest = wire.ambient ? wire.ambient->value.hi : from.design.ambient.value.hi;
    writer.number("ambient", any(hottest), wire.ambient ? wire.ambient->place : from.design.ambient.place);
}

} // namespace

void gather_wires(Gathering& to) {
    const auto in_bundle = loaded_conductors(to);
    const auto outputs = outputs_of_nets(to);
    const auto before_fuse = before_battery_fuse(to);
    for (std::uint32_t i = 0; i < to.design.wires.size(); ++i) {
        const Wire& wire = to.design.wires[i];
        const BranchId branch = to.circuit().wire_branch[i];
        const std::string ends = fmt::format("{} ({} to {})", wire.name, to.design.terminal_name(wire.from),
                                             to.design.terminal_name(wire.to));
        SubjectWriter writer(to, SubjectKind::wire, ends, wire.place, "wire " + wire.name);
        write_current(writer, to, branch, "current", largest(to.analysis.envelope.current[branch.value]));
        write_conductor(writer, to, wire);
        write_wire_place(writer, to, wire);
        const auto bundle = in_bundle.find(wire.bundle);
        const int conductors = bundle == in_bundle.end() ? 1 : bundle->second;
        writer.number("loaded_circuits", {std::max(1.0, std::ceil(0.5 * conductors)), dim::number});
        const BranchFault& fault = to.analysis.faults.branch[branch.value];
        write_fault(writer, to, branch);
        if (fault.limit_unstated && fault.fuse)
            writer.unknown("let_through", unstated_feed(to, branch));
        else if (const auto unrated = unrated_fuse(to, fault))
            writer.unknown("let_through", *unrated);
        else
            writer.number("let_through", {fault.let_through, dim::joule_integral});
        writer.truth("before_battery_fuse", before_fuse[i]);
        writer.number("outputs_joined",
                      {static_cast<double>(outputs[to.analysis.nets.net(to.circuit(), wire.from).value]), dim::number});
    }
}

} // namespace trivet
