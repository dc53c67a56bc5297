#include "assess/dissipation.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace trivet {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

double largest(const Span& span) { return std::max(std::abs(span.lowest.value), std::abs(span.highest.value)); }
double smallest(const Span& span) { return std::min(std::abs(span.lowest.value), std::abs(span.highest.value)); }

const ElementBody& body_of(const Design& design, const Branch& branch) {
    return design.part(branch.part).part->elements[branch.element].body;
}

// Voltage squared over resistance: the cold resistance where its coefficient is known, else over its whole range.
void add_heater(const Design& design, const Analysis& analysis, BranchId id, PartHeat& heat) {
    const Branch& branch = analysis.circuit.branches[id.value];
    const auto& element = std::get<HeaterElement>(body_of(design, branch));
    const Parameter& parameter = analysis.circuit.parameters[branch.first_parameter];
    double low = parameter.lo;
    double high = parameter.hi;
    if (element.temperature_coefficient && element.resistance) {
        low = element.resistance->range.lo.si;
        high = element.resistance->range.hi.si;
        heat.coefficient = element.temperature_coefficient->range.lo;
        heat.reference = celsius(20.0);
    }
    const Span& volts = analysis.envelope.voltage_on[id.value];
    heat.is_heater = true;
    if (element.self_limit) heat.self_limit = element.self_limit->range;
    heat.power.hi.si += largest(volts) * largest(volts) / low;
    heat.power.lo.si += smallest(volts) * smallest(volts) / high;
}

double most(const Design& design, const Analysis& analysis, BranchId id) {
    const Branch& branch = analysis.circuit.branches[id.value];
    const Envelope& envelope = analysis.envelope;
    if (branch.kind == BranchKind::source) return 0.0; // its losses depend on what nobody states
    if (branch.kind == BranchKind::converter) {
        const auto& converter = std::get<ConverterElement>(body_of(design, branch));
        return converter_heat(converter, envelope.voltage[id.value].highest.value,
                              envelope.output_current[id.value].highest.value)
            .si;
    }
    return largest(envelope.voltage_on[id.value]) * largest(envelope.current[id.value]);
}

} // namespace

Power converter_heat(const ConverterElement& converter, double highest_input, double output_current) {
    const bool linear = converter.topology == Topology::linear;
    if (!converter.output_voltage || (!linear && !converter.efficiency)) return {unknown};
    const double volts = converter.output_voltage->range.hi.si;
    const double quiescent = converter.quiescent_current ? converter.quiescent_current->range.hi.si : 0.0;
    const double lost = linear ? (highest_input - converter.output_voltage->range.lo.si) * output_current
                               : volts * output_current * (1.0 / converter.efficiency->range.lo.si - 1.0);
    return {std::max(0.0, lost) + highest_input * quiescent};
}

PartHeat part_heat(const Design& design, const Analysis& analysis, PartId part) {
    PartHeat heat;
    heat.part = part;
    heat.reference = celsius(20.0);
    for (const BranchId id : analysis.branches_of_part[part.value]) {
        const Branch& branch = analysis.circuit.branches[id.value];
        const IslandId island = analysis.circuit.island_of_node[branch.from.value];
        if (const auto& gap = analysis.gaps[island.value].missing; !gap.empty()) {
            heat.missing = gap;
            return heat;
        }
        if (branch.kind == BranchKind::heater) {
            if (!std::isnan(largest(analysis.envelope.voltage_on[id.value]))) add_heater(design, analysis, id, heat);
            continue;
        }
        const double watts = most(design, analysis, id);
        if (!std::isnan(watts)) heat.power.hi.si += watts;
    }
    return heat;
}

} // namespace trivet
