#pragma once

#include "circuit/circuit.h"

#include <vector>

namespace trivet {

// Terminals joined by wires and inner conductors only: what a builder calls "the same point" when resistance is
// ignored.
struct NetId {
    std::uint32_t value = 0;
    auto operator<=>(const NetId&) const = default;
};

struct Nets {
    std::vector<NetId> of_node;                      // [node]
    std::vector<std::vector<TerminalRef>> terminals; // [net], wired terminals only
    std::vector<std::vector<WireId>> wires;          // [net]
    NetId net(const Circuit& circuit, TerminalRef ref) const { return of_node[circuit.node(ref).value]; }
};
Nets find_nets(const Circuit& circuit, const Design& design);

} // namespace trivet
