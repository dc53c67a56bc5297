#include "assess/unfused_run.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_set>

namespace trivet {

namespace {

using BranchesAt = std::vector<std::vector<BranchId>>; // [node]

BranchesAt branches_at_nodes(const Circuit& circuit) {
    BranchesAt at_node(circuit.node_count);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        at_node[circuit.branches[i].from.value].push_back({i});
        at_node[circuit.branches[i].to.value].push_back({i});
    }
    return at_node;
}

UnfusedRun run_from(const Circuit& circuit, const Design& design, const BranchesAt& at_node, NodeId start) {
    UnfusedRun run;
    std::unordered_set<std::uint32_t> visited{start.value};
    std::vector<std::pair<NodeId, Length>> open{{start, {}}};
    while (!open.empty()) {
        const auto [node, so_far] = open.back();
        open.pop_back();
        run.longest = std::max(run.longest, so_far);
        for (const BranchId id : at_node[node.value]) {
            const Branch& branch = circuit.branches[id.value];
            if (branch.kind == BranchKind::fuse || branch.kind == BranchKind::source) continue;
            if (branch.kind != BranchKind::wire) {
                run.longest = {std::numeric_limits<double>::infinity()};
                continue;
            }
            const NodeId next = branch.from == node ? branch.to : branch.from;
            if (!visited.insert(next.value).second) continue;
            const auto& length = design.wire(branch.wire).length;
            run.length_missing = run.length_missing || !length;
            run.wires.push_back(branch.wire);
            open.push_back({next, length ? so_far + length->range.hi : so_far});
        }
    }
    return run;
}

} // namespace

bool UnfusedRun::ends_in_fuses() const { return !std::isinf(longest.si); }

std::map<std::uint32_t, UnfusedRun> unfused_runs(const Circuit& circuit, const Design& design) {
    std::map<std::uint32_t, UnfusedRun> runs;
    const BranchesAt at_node = branches_at_nodes(circuit);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i)
        if (circuit.branches[i].kind == BranchKind::source)
            runs.emplace(i, run_from(circuit, design, at_node, circuit.branches[i].from));
    return runs;
}

} // namespace trivet
