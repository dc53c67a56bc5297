#include "protection/trace.h"

#include "circuit/paths.h"

#include <algorithm>
#include <utility>

namespace trivet {

namespace {

bool opens_a_way(const Branch& branch) { return is_switch(branch) || branch.kind == BranchKind::cutoff; }

} // namespace

CommandTrace::CommandTrace(const Circuit& circuit, const Nets& nets, const Design& design)
    : circuit_(&circuit)
    , nets_(&nets)
    , design_(&design)
    , branches_of_part_(design.parts.size())
    , branches_at_(nets.terminals.size())
    , supply_line_(nets.terminals.size())
    , split_(split_by_island(circuit))
    , loops_(split_.parts.size())
    , loop_edges_(split_.parts.size()) {
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.kind == BranchKind::wire) continue;
        branches_of_part_[branch.part.value].push_back({i});
        std::vector<NodeId> ends{branch.from, branch.to};
        if (branch.kind == BranchKind::converter) ends.insert(ends.end(), {branch.output_from, branch.output_to});
        for (const NodeId end : ends) {
            const NetId net = nets.of_node[end.value];
            branches_at_[net.value].push_back({i});
            if (branch.kind == BranchKind::source || branch.kind == BranchKind::converter) supply_line_[net.value] = 1;
        }
    }
    for (std::size_t i = 0; i < split_.parts.size(); ++i) {
        const Circuit& part = split_.parts[i].circuit;
        loop_edges_[i].add_all(part, std::vector<char>(part.branches.size()));
        loops_[i].build(part.node_count, loop_edges_[i].edges, loop_edges_[i].is_source);
    }
}

std::optional<BranchId> CommandTrace::branch_of_element(PartId part, std::string_view element) const {
    for (const BranchId id : branches_of_part_[part.value])
        if (design_->part(part).part->elements[circuit_->branches[id.value].element].name == element) return id;
    return std::nullopt;
}

std::vector<BranchId> CommandTrace::consumers_of(PartId part) const {
    std::vector<BranchId> found;
    for (const BranchId id : branches_of_part_[part.value]) {
        const BranchKind kind = circuit_->branches[id.value].kind;
        if (kind == BranchKind::load || kind == BranchKind::coil) found.push_back(id);
    }
    return found;
}

bool CommandTrace::passes_signal(const Branch& branch) const {
    switch (branch.kind) {
    case BranchKind::resistor:
    case BranchKind::diode:
    case BranchKind::fuse:
        return true;
    default:
        return opens_a_way(branch);
    }
}

void CommandTrace::add_terminals(NetId net, PartId own, NetSurroundings& found) const {
    for (const TerminalRef ref : nets_->terminals[net.value]) {
        if (ref.part == own) continue;
        for (const Element& element : design_->part(ref.part).part->elements) {
            const auto* pin = std::get_if<PinElement>(&element.body);
            if (pin != nullptr && pin->terminal == ref.terminal) found.pins.push_back(ref);
            const auto* signal = std::get_if<SignalElement>(&element.body);
            if (signal != nullptr && signal->terminal == ref.terminal) found.signals.push_back(ref.part);
        }
    }
}

NetSurroundings CommandTrace::around(const std::vector<NodeId>& start, PartId own) const {
    struct Step {
        NetId net;
        bool past_switch;
    };
    NetSurroundings found;
    std::vector<Step> queue;
    std::vector<NetId> seen;
    const auto reach = [&](NodeId node, bool past_switch) {
        const NetId net = nets_->of_node[node.value];
        if (std::ranges::find(seen, net) != seen.end()) return;
        seen.push_back(net);
        queue.push_back({net, past_switch});
    };
    for (const NodeId node : start) reach(node, false);
    for (std::size_t next = 0; next < queue.size(); ++next) {
        const Step here = queue[next];
        if (is_supply_line(here.net)) {
            found.reaches_supply = found.reaches_supply || !here.past_switch;
            continue;
        }
        add_terminals(here.net, own, found);
        for (const BranchId id : branches_at_[here.net.value]) {
            const Branch& branch = circuit_->branches[id.value];
            if (!passes_signal(branch)) continue;
            const bool opens = opens_a_way(branch);
            if (opens && std::ranges::find(found.passes, id) == found.passes.end()) found.passes.push_back(id);
            for (const NodeId end : {branch.from, branch.to}) reach(end, here.past_switch || opens);
        }
    }
    return found;
}

const Supplying& CommandTrace::supplying(BranchId consumer) {
    const auto known = known_.find(consumer);
    return known != known_.end() ? known->second : known_.emplace(consumer, find_supplying(consumer)).first->second;
}

Supplying CommandTrace::find_supplying(BranchId consumer) const {
    const std::uint32_t island = split_.part_of(*circuit_, consumer);
    const CircuitPart& part = split_.parts[island];
    const BlockForest& loops = loops_[island];
    const LoopEdges& edges = loop_edges_[island];
    const Branch& asked = part.circuit.branches[split_.own_branch[consumer.value].value];
    std::vector<std::uint32_t> passed = loops.blocks_between(asked.from.value, asked.to.value);
    std::ranges::sort(passed);
    const bool fed = std::ranges::any_of(passed, [&](std::uint32_t block) { return loops.has_source(block); });
    Supplying found;
    if (!fed) return found;
    const auto place = [&](std::size_t e) {
        const PlainEdge& edge = edges.edges[e];
        if (edge.a == edge.b) return passed.size();
        const std::uint32_t block = loops.block_of(edge);
        const auto at = std::ranges::lower_bound(passed, block);
        return at != passed.end() && *at == block ? static_cast<std::size_t>(at - passed.begin()) : passed.size();
    };
    for (std::size_t e = 0; e < edges.edges.size(); ++e) {
        if (place(e) == passed.size()) continue;
        const BranchId id = part.branch_of[edges.branch[e].value];
        const Branch& branch = circuit_->branches[id.value];
        if (branch.kind == BranchKind::source) found.sources.push_back(id);
        if (branch.kind == BranchKind::converter && (found.converters.empty() || found.converters.back() != id))
            found.converters.push_back(id);
        if (opens_a_way(branch)) found.devices.push_back(id);
    }
    const std::vector<BranchId> needed = interrupters_of(*circuit_, consumer);
    std::ranges::copy_if(found.devices, std::back_inserter(found.interrupting),
                         [&](BranchId id) { return std::ranges::binary_search(needed, id); });
    return found;
}

} // namespace trivet
