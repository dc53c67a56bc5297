#include "protection/working_cutoffs.h"

#include "protection/protection.h"

namespace trivet {

namespace {

// Nothing but cutoffs, none of which regulates, and people can make it open.
bool is_commanded_by_cutoffs(const Circuit& circuit, const Actuation& actuation, const OffState& off) {
    if (actuation.by != ActuatedBy::switches || !actuation.boards.empty() || !actuation.controls.empty()) return false;
    bool any = false;
    for (const BranchId id : actuation.through) {
        const Branch& branch = circuit.branches[id.value];
        if (branch.kind == BranchKind::cutoff) {
            if (std::ranges::find(off.opened, id) != off.opened.end()) return false;
            any = true;
        } else if (!branch.driver || !circuit.drivers[branch.driver->value].by_hand) {
            return false;
        }
    }
    return any;
}

} // namespace

std::vector<std::pair<BranchId, WorkingCutoffs>> working_cutoffs(const Circuit& circuit, const Design& design,
                                                                 const std::vector<Actuation>& actuations,
                                                                 const OffState& off) {
    std::vector<BranchId> commanded;
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const auto driver = circuit.branches[i].driver;
        if (driver && is_commanded_by_cutoffs(circuit, actuations[driver->value], off)) commanded.push_back({i});
    }
    std::vector<std::pair<BranchId, WorkingCutoffs>> result;
    for (const HeaterProtection& heater : judge_protection(circuit, design)) {
        WorkingCutoffs cutoffs{commanded, off.opened};
        for (const CutoffVerdict& verdict : heater.cutoffs) {
            const bool is_control =
                verdict.fault == CutoffFault::shares_part || verdict.fault == CutoffFault::is_the_control;
            (is_control ? cutoffs.regulating : cutoffs.working).push_back(verdict.cutoff);
        }
        std::ranges::sort(cutoffs.working);
        std::ranges::sort(cutoffs.regulating);
        std::erase_if(cutoffs.working, [&](BranchId id) { return cutoffs.regulates(id); });
        result.emplace_back(heater.heater, std::move(cutoffs));
    }
    return result;
}

} // namespace trivet
