#include "protection/protection.h"

#include "circuit/list_search.h"
#include "circuit/paths.h"
#include "protection/circuit_part.h"

#include <algorithm>
#include <limits>
#include <map>

namespace trivet {

namespace {

std::vector<BranchId> branches_of_kind(const Circuit& circuit, const std::vector<BranchId>& among, BranchKind kind) {
    std::vector<BranchId> found;
    for (const BranchId id : among)
        if (circuit.branches[id.value].kind == kind) found.push_back(id);
    return found;
}

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

bool is_by_hand(const Circuit& circuit, const Branch& branch) {
    return branch.driver && circuit.drivers[branch.driver->value].by_hand;
}

// A self-resetting thermostat that is the only thing which regulates the heater is its control, not its backup: of
// several in the path the one that opens first. A hand switch regulates nothing.
std::optional<BranchId> regulating_cutoff(const Circuit& circuit, const Design& design,
                                          const std::vector<BranchId>& interrupters, const Controlling& control) {
    const bool has_switch = std::ranges::any_of(interrupters, [&](BranchId id) {
        const Branch& branch = circuit.branches[id.value];
        return is_switch(branch) && !is_by_hand(circuit, branch);
    });
    if (has_switch || !control.named.empty()) return std::nullopt;
    std::optional<BranchId> first;
    Temperature lowest{std::numeric_limits<double>::infinity()};
    for (const BranchId id : interrupters) {
        if (circuit.branches[id.value].kind != BranchKind::cutoff) continue;
        const CutoffElement& cutoff = cutoff_of(circuit, design, id);
        if (cutoff.reset != CutoffReset::self) continue;
        const Temperature trip = cutoff.trip ? cutoff.trip->range.middle() : lowest;
        if (first && trip >= lowest) continue;
        first = id;
        lowest = trip;
    }
    return first;
}

// What has to stay closed to feed a coil or module supply of one of the heater's switches.
struct DriveLine {
    PartId part;
    std::vector<BranchId> interrupters;
};

std::vector<DriveLine> drive_lines(const Circuit& circuit, BranchId heater, const std::vector<BranchId>& interrupters) {
    std::vector<DriveLine> lines;
    const IslandId island = circuit.island_of_node[circuit.branches[heater.value].from.value];
    for (const BranchId id : interrupters) {
        if (!is_switch(circuit.branches[id.value])) continue;
        const PartId part = circuit.branches[id.value].part;
        for (const BranchId other : circuit.branches_of_island[island.value]) {
            const Branch& branch = circuit.branches[other.value];
            const bool feeds_the_switch = branch.kind == BranchKind::coil || branch.kind == BranchKind::load;
            if (feeds_the_switch && branch.part == part) lines.push_back({part, interrupters_of(circuit, other)});
        }
    }
    return lines;
}

// The switch of the heater whose coil or module supply hangs on this cutoff, if any.
std::optional<PartId> driven_through(const std::vector<DriveLine>& lines, BranchId cutoff) {
    for (const DriveLine& line : lines)
        if (contains(line.interrupters, cutoff)) return line.part;
    return std::nullopt;
}

// The loops of an island with everything closed.
class ClosedLoops {
public:
    ClosedLoops(const Circuit& circuit, const std::vector<BranchId>& island)
        : circuit_(circuit) {
        const auto map = [&](NodeId node) {
            return number_.try_emplace(node, static_cast<std::uint32_t>(number_.size())).first->second;
        };
        LoopEdges edges;
        for (const BranchId id : island)
            if (carries_power(circuit.branches[id.value])) edges.add(circuit.branches[id.value], id);
        for (PlainEdge& edge : edges.edges) edge = {map({edge.a}), map({edge.b})};
        for (const BranchId id : island) {
            map(circuit.branches[id.value].from);
            map(circuit.branches[id.value].to);
        }
        loops_.build(static_cast<std::uint32_t>(number_.size()), edges.edges, edges.is_source);
    }

    // Whether a loop of a supply through the heater can pass the other branch.
    bool shared(BranchId heater, BranchId other) const {
        const PlainEdge asked = ends(heater);
        const PlainEdge passed = ends(other);
        if (passed.a == passed.b || !loops_.source_between(asked.a, asked.b)) return false;
        const auto blocks = loops_.blocks_between(asked.a, asked.b);
        return std::ranges::find(blocks, loops_.block_of(passed)) != blocks.end();
    }

private:
    PlainEdge ends(BranchId id) const {
        const Branch& branch = circuit_.branches[id.value];
        return {number_.at(branch.from), number_.at(branch.to)};
    }

    const Circuit& circuit_;
    std::map<NodeId, std::uint32_t> number_;
    BlockForest loops_;
};

CutoffVerdict judge(const Circuit& circuit, const HeaterProtection& heater, const Controlling& control,
                    const std::vector<DriveLine>& lines, const ClosedLoops& loops, std::optional<BranchId> regulating,
                    BranchId cutoff) {
    CutoffVerdict verdict{
        .cutoff = cutoff, .interrupts = contains(heater.interrupters, cutoff), .fault = {}, .other = {}};
    const PartId part = circuit.branches[cutoff.value].part;
    if (!verdict.interrupts) {
        verdict.other = driven_through(lines, cutoff);
        if (verdict.other) {
            verdict.fault = CutoffFault::drive_circuit;
        } else {
            verdict.fault = loops.shared(heater.heater, cutoff) ? CutoffFault::bypassed : CutoffFault::other_circuit;
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
        const std::vector<BranchId> heaters = branches_of_kind(circuit, island, BranchKind::heater);
        if (heaters.empty()) continue;
        const ClosedLoops loops(circuit, island);
        for (const BranchId heater : heaters) {
            HeaterProtection protection{
                .heater = heater, .interrupters = interrupters_of(circuit, heater), .cutoffs = {}};
            const Controlling control = controlling_parts(circuit, design, protection.interrupters);
            const auto regulating = regulating_cutoff(circuit, design, protection.interrupters, control);
            const std::vector<DriveLine> lines = drive_lines(circuit, heater, protection.interrupters);
            for (const BranchId cutoff : cutoffs)
                protection.cutoffs.push_back(judge(circuit, protection, control, lines, loops, regulating, cutoff));
            result.push_back(std::move(protection));
        }
    }
    return result;
}

} // namespace trivet
