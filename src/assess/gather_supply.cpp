#include "assess/gather.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace trivet {

namespace {

// Common practice: a supply that states no derating holds its rating up to here.
constexpr Temperature usual_full_load_limit = celsius(40.0);

// Longest run from the plus terminal over wires only: infinite where it meets a part that is not a fuse; empty when a
// wire on the way states no length.
struct Run {
    double metres = 0.0;
    bool length_missing = false;
};

Run unfused_run(const Gathering& from, const std::vector<std::vector<BranchId>>& at_node, NodeId start) {
    Run longest;
    std::vector<bool> visited(from.circuit().node_count, false);
    std::vector<std::pair<NodeId, double>> open{{start, 0.0}};
    visited[start.value] = true;
    while (!open.empty()) {
        const auto [node, metres] = open.back();
        open.pop_back();
        longest.metres = std::max(longest.metres, metres);
        for (const BranchId id : at_node[node.value]) {
            const Branch& branch = from.branch(id);
            if (branch.kind == BranchKind::fuse || branch.kind == BranchKind::source) continue;
            if (branch.kind != BranchKind::wire) {
                longest.metres = std::numeric_limits<double>::infinity();
                continue;
            }
            const NodeId next = branch.from == node ? branch.to : branch.from;
            if (visited[next.value]) continue;
            visited[next.value] = true;
            const auto& length = from.design.wire(branch.wire).length;
            longest.length_missing = longest.length_missing || !length;
            open.push_back({next, metres + (length ? length->range.hi.si : 0.0)});
        }
    }
    return longest;
}

std::vector<std::vector<BranchId>> branches_at_nodes(const Circuit& circuit) {
    std::vector<std::vector<BranchId>> at_node(circuit.node_count);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        at_node[circuit.branches[i].from.value].push_back({i});
        at_node[circuit.branches[i].to.value].push_back({i});
    }
    return at_node;
}

void write_derated(SubjectWriter& writer, const SourceElement& source, Temperature ambient) {
    if (!source.rated_current) return writer.absent("derated_current", "rated_current");
    const Current rated = source.rated_current->range.lo;
    const Temperature full_up_to = source.full_load_up_to ? source.full_load_up_to->range.lo : usual_full_load_limit;
    const double above = std::max(0.0, ambient.si - full_up_to.si);
    if (above > 0.0 && !source.derating) return writer.absent("derated_current", "derating");
    const double lost = above > 0.0 ? above * source.derating->range.hi.si : 0.0;
    writer.number("derated_current", any(rated * std::max(0.0, 1.0 - lost)), source.rated_current->place,
                  SubjectWriter::certainty_of(source.rated_current->basis));
}

} // namespace

void gather_supplies(Gathering& to) {
    const auto at_node = branches_at_nodes(to.circuit());
    for_each_element<SourceElement>(to, BranchKind::source, [&](BranchId id, const SourceElement& source) {
        const Branch& branch = to.branch(id);
        SubjectWriter writer(to, SubjectKind::supply, branch);
        const Envelope& envelope = to.analysis.envelope;
        writer.truth("is_battery", source.is_battery);
        writer.flag("isolated", "isolated", source.isolated);
        write_current(writer, to, id, "current", envelope.current[id.value].highest);
        write_current(writer, to, id, "start_current", envelope.start_current[id.value].highest);
        Extreme pushed = envelope.current[id.value].lowest;
        pushed.value = std::isnan(pushed.value) ? 0.0 : std::max(0.0, -pushed.value);
        writer.extreme("reverse_current", pushed, dim::current);
        writer.lowest("rated_current", "rated_current", source.rated_current);
        write_derated(writer, source, hottest_ambient(to.design, to.part_of(branch)));
        writer.lowest("limit_current", "limit_current", source.limit_current);
        const Run run = unfused_run(to, at_node, branch.from);
        if (run.length_missing && !std::isinf(run.metres))
            writer.absent("unfused_length", "length of the wires between it and its fuse");
        else
            writer.number("unfused_length", {run.metres, dim::length});
    });
}

} // namespace trivet
