#include "protection/off_state.h"

#include "protection/circuit_part.h"
#include "protection/protection.h"

#include <algorithm>
#include <limits>

namespace trivet {

namespace {

// [branch]: whether a loop through a heater and a supply can pass it.
std::vector<char> in_heater_loops(const Circuit& circuit) {
    std::vector<char> found(circuit.branches.size());
    const CircuitParts split = split_by_island(circuit);
    for (const CircuitPart& part : split.parts) {
        LoopEdges edges;
        edges.add_all(part.circuit, std::vector<char>(part.circuit.branches.size()));
        BlockForest forest;
        forest.build(part.circuit.node_count, edges.edges, edges.is_source);
        std::vector<char> heated;
        for (const Branch& branch : part.circuit.branches) {
            if (branch.kind != BranchKind::heater) continue;
            if (!forest.source_between(branch.from.value, branch.to.value)) continue;
            for (const std::uint32_t block : forest.blocks_between(branch.from.value, branch.to.value)) {
                heated.resize(std::max<std::size_t>(heated.size(), block + 1));
                heated[block] = 1;
            }
        }
        for (std::size_t i = 0; i < edges.edges.size(); ++i) {
            if (edges.edges[i].a == edges.edges[i].b) continue;
            const std::uint32_t block = forest.block_of(edges.edges[i]);
            if (block < heated.size() && heated[block] != 0) found[part.branch_of[edges.branch[i].value].value] = 1;
        }
    }
    return found;
}

const CutoffElement* self_resetting(const Circuit& circuit, const Design& design, BranchId id) {
    const Branch& branch = circuit.branches[id.value];
    if (branch.kind != BranchKind::cutoff) return nullptr;
    const auto& cutoff = std::get<CutoffElement>(design.part(branch.part).part->elements[branch.element].body);
    return cutoff.reset == CutoffReset::self ? &cutoff : nullptr;
}

// Drivers that feed the coil of another one stand as that one needs it.
void settle_upstream(const Circuit& circuit, const std::vector<Actuation>& actuations, OffState& state) {
    std::vector<char> settled = state.heats;
    std::vector<DriverId> queue;
    for (std::uint32_t i = 0; i < settled.size(); ++i)
        if (settled[i] != 0) queue.push_back({i});
    for (std::size_t next = 0; next < queue.size(); ++next) {
        const DriverId below = queue[next];
        for (const BranchId id : actuations[below.value].through) {
            const Branch& branch = circuit.branches[id.value];
            if (!branch.driver || settled[branch.driver->value] != 0) continue;
            settled[branch.driver->value] = 1;
            const bool closed = state.on[below.value] != 0;
            state.on[branch.driver->value] = closed != branch.rests_closed ? 1 : 0;
            queue.push_back(*branch.driver);
        }
    }
}

// The thermostat in the coil's way that opens first.
std::optional<BranchId> first_to_open(const Circuit& circuit, const Design& design,
                                      const std::vector<BranchId>& through) {
    std::optional<BranchId> first;
    Temperature lowest{std::numeric_limits<double>::infinity()};
    for (const BranchId id : through) {
        const CutoffElement* cutoff = self_resetting(circuit, design, id);
        if (cutoff == nullptr) continue;
        const Temperature trip = cutoff->trip ? cutoff->trip->range.middle() : lowest;
        if (first && trip >= lowest) continue;
        first = id;
        lowest = trip;
    }
    return first;
}

bool is_named(const Design& design, PartId part) {
    return std::ranges::any_of(design.controls, [&](const Control& control) {
        return std::ranges::find(control.senses, part) != control.senses.end() ||
               std::ranges::find(control.drives, part) != control.drives.end();
    });
}

// A thermostat that nothing but people stands beside: in the heater's own way as judge_protection finds it, or in that
// of its relay's coil.
void find_regulators(const Circuit& circuit, const Design& design, const std::vector<Actuation>& actuations,
                     OffState& state) {
    const auto add = [&](BranchId id) {
        if (std::ranges::find(state.opened, id) == state.opened.end()) state.opened.push_back(id);
    };
    const auto part_of = [&](BranchId id) { return circuit.branches[id.value].part; };
    for (const HeaterProtection& heater : judge_protection(circuit, design))
        for (const CutoffVerdict& verdict : heater.cutoffs)
            if (verdict.fault == CutoffFault::is_the_control && !is_named(design, part_of(verdict.cutoff)) &&
                self_resetting(circuit, design, verdict.cutoff) != nullptr)
                add(verdict.cutoff);
    for (const HeaterDevices& heater : devices_that_interrupt(circuit)) {
        std::vector<BranchId> through;
        bool has_other = false;
        for (const Device& device : heater.devices) {
            if (!device.driver || actuations[device.driver->value].by == ActuatedBy::hand) continue;
            const Actuation& actuation = actuations[device.driver->value];
            has_other = has_other || !actuation.boards.empty() || !actuation.controls.empty() ||
                        actuation.by == ActuatedBy::signal;
            through.insert(through.end(), actuation.through.begin(), actuation.through.end());
        }
        if (has_other) continue;
        if (const auto regulator = first_to_open(circuit, design, through)) add(*regulator);
    }
}

} // namespace

OffState heaters_off(const Circuit& circuit, const Design& design, const std::vector<Actuation>& actuations) {
    OffState state;
    state.on.resize(circuit.drivers.size());
    state.heats.resize(circuit.drivers.size());
    std::vector<char> by_open_contact(circuit.drivers.size());
    const std::vector<char> heated = in_heater_loops(circuit);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (!branch.driver || heated[i] == 0) continue;
        state.heats[branch.driver->value] = 1;
        if (!branch.rests_closed) by_open_contact[branch.driver->value] = 1;
    }
    for (std::size_t i = 0; i < state.on.size(); ++i)
        state.on[i] = state.heats[i] != 0 && by_open_contact[i] == 0 ? 1 : 0;
    settle_upstream(circuit, actuations, state);
    find_regulators(circuit, design, actuations, state);
    return state;
}

} // namespace trivet
