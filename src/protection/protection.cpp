#include "protection/protection.h"

#include "circuit/paths.h"

#include <algorithm>

namespace trivet {

namespace {

bool is_switch(const Branch& branch) {
    return branch.kind == BranchKind::contact || branch.kind == BranchKind::transistor;
}

std::vector<BranchId> branches_of_kind(const Circuit& circuit, const std::vector<BranchId>& among, BranchKind kind) {
    std::vector<BranchId> found;
    for (const BranchId id : among)
        if (circuit.branches[id.value].kind == kind) found.push_back(id);
    return found;
}

bool contains(const std::vector<BranchId>& branches, BranchId branch) {
    return std::ranges::find(branches, branch) != branches.end();
}
bool contains(const std::vector<PartId>& parts, PartId part) { return std::ranges::find(parts, part) != parts.end(); }

const CutoffElement& cutoff_of(const Circuit& circuit, const Design& design, BranchId branch) {
    const Branch& where = circuit.branches[branch.value];
    return std::get<CutoffElement>(design.part(where.part).part->elements[where.element].body);
}

// Parts that regulate a heater in normal running: what any control drives among the heater's switches, and everything
// that control senses.
struct Controlling {
    std::vector<PartId> parts;
    std::vector<PartId> named; // parts a control names as sensing or driven
};

Controlling controlling_parts(const Circuit& circuit, const Design& design, const std::vector<BranchId>& interrupters) {
    Controlling result;
    for (const BranchId id : interrupters)
        if (is_switch(circuit.branches[id.value])) result.parts.push_back(circuit.branches[id.value].part);
    for (const Control& control : design.controls) {
        result.named.insert(result.named.end(), control.drives.begin(), control.drives.end());
        result.named.insert(result.named.end(), control.senses.begin(), control.senses.end());
    }
    return result;
}

// A self-resetting thermostat that is the only thing which regulates the heater is its control, not its backup: of
// several in the path the first counts as the control.
std::optional<BranchId> regulating_cutoff(const Circuit& circuit, const Design& design,
                                          const std::vector<BranchId>& interrupters, const Controlling& control) {
    const bool has_switch =
        std::ranges::any_of(interrupters, [&](BranchId id) { return is_switch(circuit.branches[id.value]); });
    if (has_switch || !control.named.empty()) return std::nullopt;
    for (const BranchId id : interrupters)
        if (circuit.branches[id.value].kind == BranchKind::cutoff &&
            cutoff_of(circuit, design, id).reset == CutoffReset::self)
            return id;
    return std::nullopt;
}

// The switch of the heater whose coil or module supply hangs on this cutoff, if any.
std::optional<PartId> driven_through(const Circuit& circuit, const std::vector<BranchId>& interrupters,
                                     BranchId cutoff) {
    for (const BranchId id : interrupters) {
        if (!is_switch(circuit.branches[id.value])) continue;
        const PartId part = circuit.branches[id.value].part;
        const IslandId island = circuit.island_of_node[circuit.branches[cutoff.value].from.value];
        for (const BranchId other : circuit.branches_of_island[island.value]) {
            const Branch& branch = circuit.branches[other.value];
            const bool feeds_the_switch = branch.kind == BranchKind::coil || branch.kind == BranchKind::load;
            if (feeds_the_switch && branch.part == part && contains(interrupters_of(circuit, other), cutoff))
                return part;
        }
    }
    return std::nullopt;
}

CutoffVerdict judge(const Circuit& circuit, const HeaterProtection& heater, const Controlling& control,
                    std::optional<BranchId> regulating, BranchId cutoff) {
    CutoffVerdict verdict{
        .cutoff = cutoff, .interrupts = contains(heater.interrupters, cutoff), .fault = {}, .other = {}};
    const PartId part = circuit.branches[cutoff.value].part;
    if (!verdict.interrupts) {
        verdict.other = driven_through(circuit, heater.interrupters, cutoff);
        if (verdict.other) {
            verdict.fault = CutoffFault::drive_circuit;
        } else {
            verdict.fault =
                shares_loop(circuit, heater.heater, cutoff) ? CutoffFault::bypassed : CutoffFault::other_circuit;
        }
    } else if (contains(control.parts, part)) {
        verdict.fault = CutoffFault::shares_part;
        verdict.other = part;
    } else if (contains(control.named, part) || regulating == cutoff) {
        verdict.fault = CutoffFault::is_the_control;
        verdict.other = part;
    }
    return verdict;
}

} // namespace

std::size_t HeaterProtection::interrupting() const {
    return static_cast<std::size_t>(
        std::ranges::count_if(cutoffs, [](const CutoffVerdict& v) { return v.interrupts; }));
}

std::size_t HeaterProtection::independent() const {
    return static_cast<std::size_t>(std::ranges::count_if(cutoffs, [](const CutoffVerdict& v) { return !v.fault; }));
}

std::vector<HeaterProtection> judge_protection(const Circuit& circuit, const Design& design) {
    std::vector<HeaterProtection> result;
    for (const std::vector<BranchId>& island : circuit.branches_of_island) {
        const std::vector<BranchId> cutoffs = branches_of_kind(circuit, island, BranchKind::cutoff);
        for (const BranchId heater : branches_of_kind(circuit, island, BranchKind::heater)) {
            HeaterProtection protection{
                .heater = heater, .interrupters = interrupters_of(circuit, heater), .cutoffs = {}};
            const Controlling control = controlling_parts(circuit, design, protection.interrupters);
            const auto regulating = regulating_cutoff(circuit, design, protection.interrupters, control);
            for (const BranchId cutoff : cutoffs)
                protection.cutoffs.push_back(judge(circuit, protection, control, regulating, cutoff));
            result.push_back(std::move(protection));
        }
    }
    return result;
}

} // namespace trivet
