#include "assess/dissipation.h"
#include "assess/gather.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

void write_dissipation(SubjectWriter& writer, const Gathering& from, BranchId id, const ConverterElement& converter) {
    if (!converter.output_voltage) return writer.absent("dissipation", "output");
    const bool linear = converter.topology == Topology::linear;
    if (!linear && !converter.efficiency) return writer.absent("dissipation", "efficiency");
    const Extreme output = from.analysis.envelope.output_current[id.value].highest;
    const double input = from.analysis.envelope.voltage[id.value].highest.value;
    if (std::isnan(output.value) || std::isnan(input)) return writer.unknown("dissipation", "its input is never fed");
    const Power lost = converter_heat(converter, input, output.value);
    write_current(writer, from, id, "dissipation", {lost.si, output.state, output.corner}, dim::power);
}

} // namespace

void write_collapse(SubjectWriter& writer, const Gathering& from, BranchId id) {
    const Envelope::Collapse* worst = nullptr;
    for (const Envelope::Collapse& collapse : from.analysis.envelope.collapses)
        if (collapse.why.branch == id && (worst == nullptr || collapse.why.available < worst->why.available))
            worst = &collapse;
    const Unknown& gap = from.analysis.gaps[from.island_of(from.branch(id)).value];
    if (worst == nullptr && !gap.missing.empty())
        writer.unknown("collapses", gap);
    else
        writer.truth("collapses", worst != nullptr);
    if (worst != nullptr) {
        writer.extreme("demanded_power", {worst->why.demanded.si, worst->state, worst->corner}, dim::power);
        writer.extreme("available_power", {worst->why.available.si, worst->state, worst->corner}, dim::power);
        return;
    }
    for (const auto fact : {"demanded_power", "available_power"}) writer.unknown(fact, "the line never collapses");
}

void gather_converters(Gathering& to) {
    for_each_element<ConverterElement>(to, BranchKind::converter, [&](BranchId id, const ConverterElement& converter) {
        const Envelope& envelope = to.analysis.envelope;
        SubjectWriter writer(to, SubjectKind::converter, to.branch(id));
        const bool reversed = is_reversed(to, id, envelope.voltage[id.value]);
        if (reversed)
            for (const auto fact : {"lowest_input", "dissipation"})
                writer.unknown(fact, subject_name(to, to.branch(id)) + " is connected the wrong way round");
        else if (auto missing = wires_without_length(to, id); !missing.empty())
            writer.unknown("lowest_input", Unknown{std::move(missing), {}});
        else
            write_current(writer, to, id, "lowest_input", envelope.voltage_on[id.value].lowest, dim::voltage);
        write_current(writer, to, id, "highest_input", envelope.voltage[id.value].highest, dim::voltage);
        write_voltage(writer, to, id, "most_reversed_input", envelope.voltage[id.value].lowest);
        writer.lowest("rated_lowest_input", "input_voltage", converter.input_voltage);
        writer.highest("rated_highest_input", "input_voltage", converter.input_voltage);
        writer.highest("output_voltage", "output", converter.output_voltage);
        writer.highest("dropout", "dropout", converter.dropout);
        writer.truth("steps_down", converter.topology == Topology::step_down || converter.topology == Topology::linear);
        write_current(writer, to, id, "output_current", envelope.output_current[id.value].highest);
        writer.lowest("rated_output_current", "rated_output_current", converter.rated_output_current);
        if (!reversed) write_dissipation(writer, to, id, converter);
        writer.lowest("dissipation_limit", "dissipation_limit", converter.dissipation_limit);
        write_collapse(writer, to, id);
    });
}

} // namespace trivet
