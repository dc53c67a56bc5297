#include "assess/overdrive.h"

#include <algorithm>

namespace trivet {

namespace {

double squared(double ratio) { return ratio * ratio; }

// What a converter is fed with, over what it is set to. Not stated where it is set: its heater's power is unknown
// without any fault, too.
std::optional<double> passed_through(const Branch& converter, const Design& design, const Analysis& analysis) {
    const auto& element =
        std::get<ConverterElement>(design.part(converter.part).part->elements[converter.element].body);
    const IslandId input = analysis.circuit.island_of_node[converter.from.value];
    const double volts = analysis.highest_voltage[input.value].si;
    if (!element.output_voltage || volts <= element.output_voltage->range.hi.si) return std::nullopt;
    return squared(volts / element.output_voltage->range.hi.si);
}

// Supplies in series count as one that gives too much: nobody feeds the heater alone.
bool shares_island(const Circuit& circuit, BranchId source, BranchId heater) {
    const Branch& branch = circuit.branches[source.value];
    return branch.kind == BranchKind::source && circuit.island_of_node[branch.from.value] ==
                                                    circuit.island_of_node[circuit.branches[heater.value].from.value];
}

} // namespace

std::optional<double> overdrive(const FaultCase& fault, BranchId heater, const Design& design,
                                const Analysis& analysis) {
    const std::vector<BranchId>& feeders = analysis.feeders[heater.value];
    for (const BranchChange& change : fault.changes) {
        if (change.branch == heater && change.change == Change::scaled) return 1.0 / change.factor;
        if (feeders.empty() ? !shares_island(analysis.circuit, change.branch, heater)
                            : std::ranges::find(feeders, change.branch) == feeders.end())
            continue;
        if (fault.mode == FaultMode::passes_through)
            return passed_through(analysis.circuit.branches[change.branch.value], design, analysis);
        if (change.change == Change::scaled) return squared(change.factor);
    }
    return std::nullopt;
}

} // namespace trivet
