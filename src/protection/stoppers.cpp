#include "protection/stoppers.h"

#include "circuit/list_search.h"

#include <algorithm>

namespace trivet {

namespace {

class StopperSearch {
public:
    StopperSearch(const Standing& standing, BranchId heater)
        : circuit_(standing.circuit)
        , split_(standing.split)
        , faulted_(standing.faulted)
        , fault_(standing.fault)
        , actuations_(standing.actuations)
        , on_(standing.on)
        , commanded_(standing.commanded)
        , heater_(heater)
        , island_(standing.split.part_of(standing.circuit, heater)) {}

    void run(StuckOn& stuck) {
        weak_ = !is_fed(on_, {});
        const std::vector<BranchId> passed = passed_branches();
        std::vector<BranchId> cutoffs;
        std::vector<DriverId> drivers;
        for (const BranchId id : passed) {
            const Branch& branch = circuit_.branches[id.value];
            if (is_touched(id)) continue;
            if (branch.kind == BranchKind::cutoff) cutoffs.push_back(id);
            if (branch.driver && !contains(drivers, *branch.driver)) drivers.push_back(*branch.driver);
        }
        for (const BranchId cutoff : cutoffs)
            if (!is_fed(on_, {cutoff})) stuck.cutoffs.push_back(cutoff);
        stuck.all_cutoffs_end_it = !cutoffs.empty() && (!stuck.cutoffs.empty() || !is_fed(on_, cutoffs));
        for (const DriverId driver : drivers) {
            if (on_[driver.value] != commanded_[driver.value] || is_touched(driver)) continue;
            Positions moved = on_;
            moved[driver.value] = on_[driver.value] == 0 ? 1 : 0;
            if (is_fed(moved, {})) continue;
            (circuit_.drivers[driver.value].by_hand ? stuck.hand_switches : stuck.switches).push_back(driver);
        }
    }

private:
    const Branch& own(BranchId id) const {
        return split_.parts[island_].circuit.branches[split_.own_branch[id.value].value];
    }

    BranchId whole(BranchId own_branch) const { return split_.parts[island_].branch_of[own_branch.value]; }

    bool is_fed(const Positions& on, const std::vector<BranchId>& opened) {
        faulted_.list_loops(island_, on, weak_, edges_);
        for (std::size_t i = edges_.edges.size(); i-- > 0 && !opened.empty();)
            if (edges_.branch[i] != no_branch && contains(opened, whole(edges_.branch[i])))
                edges_.edges[i].b = edges_.edges[i].a;
        loops_.build(split_.parts[island_].circuit.node_count, edges_.edges, edges_.is_source);
        return loops_.source_between(own(heater_).from.value, own(heater_).to.value);
    }

    // What the heater's current can pass.
    std::vector<BranchId> passed_branches() {
        is_fed(on_, {});
        const std::vector<std::uint32_t> blocks = loops_.blocks_between(own(heater_).from.value, own(heater_).to.value);
        std::vector<BranchId> passed;
        for (std::size_t i = 0; i < edges_.edges.size(); ++i)
            if (edges_.branch[i] != no_branch && edges_.edges[i].a != edges_.edges[i].b &&
                contains(blocks, loops_.block_of(edges_.edges[i])))
                passed.push_back(whole(edges_.branch[i]));
        return passed;
    }

    bool fails(PartId part) const {
        return fault_ != nullptr && !fault_->wire && !fault_->control && fault_->part == part;
    }

    bool is_touched(BranchId id) const {
        if (fault_ == nullptr) return false;
        return fails(circuit_.branches[id.value].part) ||
               std::ranges::any_of(fault_->changes, [&](const BranchChange& c) { return c.branch == id; });
    }

    // The fault is somewhere along the chain that commands it.
    bool is_touched(DriverId driver) const {
        if (fault_ == nullptr) return false;
        const Actuation& actuation = actuations_[driver.value];
        const auto forced = [&](const ForcedDriver& f) { return contains(actuation.drivers, f.driver); };
        const auto changed = [&](const BranchChange& c) {
            return contains(actuation.through, c.branch) || contains(actuation.fed_through, c.branch) ||
                   contains(actuation.converters, c.branch) || contains(actuation.supplies, c.branch);
        };
        return std::ranges::any_of(fault_->forced, forced) || std::ranges::any_of(fault_->changes, changed) ||
               std::ranges::any_of(actuation.boards, [&](PartId part) { return fails(part); }) ||
               std::ranges::any_of(actuation.sensors, [&](PartId part) { return fails(part); }) ||
               (fault_->control && contains(actuation.controls, *fault_->control));
    }

    const Circuit& circuit_;
    const CircuitParts& split_;
    const FaultedCircuit& faulted_;
    const FaultCase* fault_;
    const std::vector<Actuation>& actuations_;
    const Positions& on_;
    const Positions& commanded_;
    BranchId heater_;
    std::uint32_t island_;
    bool weak_ = false;
    LoopEdges edges_;
    BlockForest loops_;
};

} // namespace

void find_stoppers(const Standing& standing, StuckOn& stuck) { StopperSearch(standing, stuck.heater).run(stuck); }

} // namespace trivet
