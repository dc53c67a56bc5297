#include "protection/breaches.h"

#include "circuit/paths.h"
#include "circuit/union_find.h"
#include "protection/loop_path.h"
#include "protection/working_cutoffs.h"

#include <algorithm>
#include <map>

namespace trivet {

namespace {

// Islands that bonded metal could join count as one.
CircuitParts split_over_bonds(const Circuit& circuit, const Design& design) {
    UnionFind joined(circuit.island_count);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        if (circuit.branches[i].kind != BranchKind::heater) continue;
        for (const InsulationFault& fault : insulation_faults(circuit, design, {i}))
            joined.join(circuit.island_of_node[fault.at.value].value, circuit.island_of_node[fault.metal.value].value);
    }
    std::uint32_t count = 0;
    std::vector<std::uint32_t> number = joined.numbered(count);
    return split_circuit(circuit, std::move(number), count);
}

// One part of the circuit with the working cutoffs taken out, for heaters that have the same ones.
class BreachSearch {
public:
    BreachSearch(const Circuit& circuit, const CircuitParts& split, std::uint32_t part, const WorkingCutoffs& cutoffs,
                 const OffState& off, std::vector<Breach>& found)
        : circuit_(circuit)
        , split_(split)
        , part_(split.parts[part])
        , cutoffs_(cutoffs)
        , off_(off)
        , found_(found)
        , left_out_(part_.circuit.branches.size()) {
        for (const BranchId id : part_.branch_of)
            if (circuit.branches[id.value].kind != BranchKind::wire)
                branches_of_part_[circuit.branches[id.value].part].push_back(id);
    }

    struct Asked {
        BranchId heater;
        std::vector<InsulationFault> insulation;
    };

    void run(const std::vector<Asked>& heaters) {
        first_ = found_.size();
        for (const bool past_switches : {true, false}) {
            past_switches_ = past_switches;
            leave_out();
            edges_.clear();
            edges_.add_all(part_.circuit, left_out_);
            look(heaters, {});
            for (const auto& [part, branches] : branches_of_part_)
                if (shorting_matters(branches)) look(heaters, part);
        }
    }

private:
    NodeId own(NodeId node) const { return split_.own_node[node.value]; }

    void leave_out() {
        for (std::uint32_t i = 0; i < left_out_.size(); ++i) {
            const BranchId id = part_.branch_of[i];
            const Branch& branch = circuit_.branches[id.value];
            const bool open = branch.driver && (off_.on[branch.driver->value] != 0) == branch.rests_closed;
            left_out_[i] = cutoffs_.is_working(id) || (past_switches_ && (open || cutoffs_.regulates(id))) ? 1 : 0;
        }
    }

    // Joining the ends of what conducts anyway changes nothing.
    bool shorting_matters(const std::vector<BranchId>& branches) const {
        if (!past_switches_ && holds_cutoff(branches)) return false;
        return std::ranges::any_of(branches, [&](BranchId id) { return joins_ends(id); });
    }

    bool holds_cutoff(const std::vector<BranchId>& branches) const {
        return std::ranges::any_of(branches, [&](BranchId id) { return cutoffs_.is_working(id); });
    }

    bool joins_ends(BranchId id) const {
        const Branch& branch = circuit_.branches[id.value];
        if (branch.kind == BranchKind::source || branch.kind == BranchKind::converter) return false;
        if (branch.kind == BranchKind::heater && branches_of_part_.at(branch.part).size() > 1) return false;
        return left_out_[split_.own_branch[id.value].value] != 0 || !carries_power(branch);
    }

    void join(UnionFind& points, std::optional<PartId> shorted, const InsulationFault* insulation) const {
        if (shorted)
            for (const BranchId id : branches_of_part_.at(*shorted))
                if (joins_ends(id))
                    points.join(own(circuit_.branches[id.value].from).value, own(circuit_.branches[id.value].to).value);
        if (insulation != nullptr) points.join(own(insulation->at).value, own(insulation->metal).value);
    }

    // The edges among the points that are left after joining.
    void contract(UnionFind& points, LoopEdges& to) const {
        to = edges_;
        for (PlainEdge& edge : to.edges) edge = {points.find(edge.a), points.find(edge.b)};
    }

    void look(const std::vector<Asked>& heaters, std::optional<PartId> shorted) {
        const std::uint32_t nodes = part_.circuit.node_count;
        UnionFind points(nodes);
        join(points, shorted, nullptr);
        contract(points, joined_);
        loops_.build(nodes, joined_.edges, joined_.is_source);
        for (const Asked& asked : heaters) {
            const Branch& heater = circuit_.branches[asked.heater.value];
            const std::uint32_t from = points.find(own(heater.from).value);
            const std::uint32_t to = points.find(own(heater.to).value);
            if (from != to && loops_.source_between(from, to)) note(asked.heater, shorted, nullptr, joined_, from, to);
            if (shorted && holds_cutoff(branches_of_part_.at(*shorted))) continue;
            for (const InsulationFault& fault : asked.insulation) {
                const std::uint32_t other = own(fault.at) == own(heater.from) ? to : from;
                const std::uint32_t metal = points.find(own(fault.metal).value);
                // A loop over the metal ends there without passing the faulty end: without a way to the metal past a
                // source there is none.
                if (from == to || is_known(asked.heater, shorted, &fault) || !loops_.source_between(other, metal))
                    continue;
                look_closely(asked.heater, shorted, fault);
            }
        }
    }

    void look_closely(BranchId id, std::optional<PartId> shorted, const InsulationFault& fault) {
        const std::uint32_t nodes = part_.circuit.node_count;
        UnionFind points(nodes);
        join(points, shorted, &fault);
        LoopEdges edges;
        contract(points, edges);
        BlockForest loops;
        loops.build(nodes, edges.edges, edges.is_source);
        const Branch& heater = circuit_.branches[id.value];
        const std::uint32_t from = points.find(own(heater.from).value);
        const std::uint32_t to = points.find(own(heater.to).value);
        if (from != to && loops.source_between(from, to)) note(id, shorted, &fault, edges, from, to);
    }

    // Whether some of these faults already do as much.
    bool is_known(BranchId heater, std::optional<PartId> shorted, const InsulationFault* insulation) const {
        return std::any_of(found_.begin() + static_cast<std::ptrdiff_t>(first_), found_.end(), [&](const Breach& b) {
            const bool same_metal = !b.insulation || (insulation != nullptr && b.insulation->at == insulation->at &&
                                                      b.insulation->metal == insulation->metal);
            return b.heater == heater && (b.past_switches || !past_switches_) && (!b.shorted || b.shorted == shorted) &&
                   same_metal;
        });
    }

    void note(BranchId heater, std::optional<PartId> shorted, const InsulationFault* insulation, const LoopEdges& edges,
              std::uint32_t from, std::uint32_t to) {
        if (is_known(heater, shorted, insulation)) return;
        Breach breach;
        breach.heater = heater;
        breach.shorted = shorted;
        if (insulation != nullptr) breach.insulation = *insulation;
        breach.past_switches = past_switches_;
        for (const std::uint32_t edge : loop_path(part_.circuit.node_count, edges, from, to)) {
            const BranchId id = part_.branch_of[edges.branch[edge].value];
            if (breach.path.empty() || breach.path.back() != id) breach.path.push_back(id);
        }
        found_.push_back(std::move(breach));
    }

    const Circuit& circuit_;
    const CircuitParts& split_;
    const CircuitPart& part_;
    const WorkingCutoffs& cutoffs_;
    const OffState& off_;
    std::vector<Breach>& found_;
    std::size_t first_ = 0;
    bool past_switches_ = false;
    std::map<PartId, std::vector<BranchId>> branches_of_part_;
    std::vector<char> left_out_;
    LoopEdges edges_;
    LoopEdges joined_;
    BlockForest loops_;
};

void add_metal(std::vector<InsulationFault>& to, const Circuit& circuit, const Design& design, const Branch& heater,
               PartId owner) {
    const auto& bonded = design.part(owner).bonded_to;
    if (!bonded) return;
    const NodeId metal = circuit.node(*bonded);
    if (std::ranges::any_of(to, [&](const InsulationFault& f) { return f.metal == metal; })) return;
    for (const NodeId at : {heater.from, heater.to}) to.push_back({at, metal, owner});
}

} // namespace

std::vector<InsulationFault> insulation_faults(const Circuit& circuit, const Design& design, BranchId heater) {
    const Branch& branch = circuit.branches[heater.value];
    const PartUse& own = design.part(branch.part);
    std::vector<InsulationFault> found;
    add_metal(found, circuit, design, branch, branch.part);
    if (own.mounted_on) add_metal(found, circuit, design, branch, *own.mounted_on);
    for (std::uint32_t i = 0; i < design.parts.size(); ++i) {
        const PartUse& other = design.parts[i];
        if (other.mounted_on == branch.part || (own.on_body && other.on_body == own.on_body))
            add_metal(found, circuit, design, branch, {i});
    }
    return found;
}

std::vector<Breach> find_breaches(const Circuit& circuit, const Design& design,
                                  const std::vector<Actuation>& actuations, const OffState& off) {
    const CircuitParts split = split_over_bonds(circuit, design);
    std::vector<Breach> found;
    // [part of the circuit]: heaters by the cutoffs that work for them
    std::vector<std::map<WorkingCutoffs, std::vector<BreachSearch::Asked>>> groups(split.parts.size());
    for (const auto& [heater, cutoffs] : working_cutoffs(circuit, design, actuations, off))
        groups[split.part_of(circuit, heater)][cutoffs].push_back({heater, insulation_faults(circuit, design, heater)});
    for (std::uint32_t part = 0; part < groups.size(); ++part)
        for (const auto& [cutoffs, heaters] : groups[part])
            BreachSearch(circuit, split, part, cutoffs, off, found).run(heaters);
    std::ranges::stable_sort(found, {}, &Breach::heater);
    return found;
}

} // namespace trivet
