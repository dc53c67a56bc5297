#include "circuit/nets.h"

#include "circuit/union_find.h"

namespace trivet {

namespace {

// Terminals at which a wire ends, each once: [part][terminal].
std::vector<std::vector<bool>> wired_terminals(const Design& design) {
    std::vector<std::vector<bool>> wired;
    for (const PartUse& use : design.parts) wired.emplace_back(use.part->terminals.size());
    for (const Wire& wire : design.wires)
        for (const TerminalRef end : {wire.from, wire.to}) wired[end.part.value][end.terminal.value] = true;
    return wired;
}

} // namespace

Nets find_nets(const Circuit& circuit, const Design& design) {
    UnionFind joined(circuit.node_count);
    for (const Branch& branch : circuit.branches)
        if (branch.kind == BranchKind::wire || branch.kind == BranchKind::conductor)
            joined.join(branch.from.value, branch.to.value);
    std::uint32_t count = 0;
    Nets nets;
    for (const std::uint32_t net : joined.numbered(count)) nets.of_node.push_back({net});
    nets.terminals.resize(count);
    nets.wires.resize(count);
    const auto wired = wired_terminals(design);
    for (std::uint32_t part = 0; part < wired.size(); ++part) {
        for (std::uint16_t terminal = 0; terminal < wired[part].size(); ++terminal) {
            const TerminalRef ref{{part}, {terminal}};
            if (wired[part][terminal]) nets.terminals[nets.net(circuit, ref).value].push_back(ref);
        }
    }
    for (std::uint32_t i = 0; i < design.wires.size(); ++i)
        nets.wires[nets.net(circuit, design.wires[i].from).value].push_back({i});
    return nets;
}

} // namespace trivet
