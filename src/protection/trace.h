#pragma once

#include "circuit/circuit.h"
#include "circuit/nets.h"
#include "design/design.h"
#include "protection/circuit_part.h"

#include <map>
#include <optional>
#include <string_view>
#include <vector>

namespace trivet {

// What is wired to a point, looked at through resistors, diodes and whatever passes a signal on, as far as the nearest
// supply line.
struct NetSurroundings {
    std::vector<TerminalRef> pins;
    std::vector<PartId> signals;  // sensors whose output drives it
    std::vector<BranchId> passes; // contacts, transistors and cutoffs on the way
    bool reaches_supply = false;  // a supply line without any of those in between
};

// What feeds a branch.
struct Supplying {
    std::vector<BranchId> sources;
    std::vector<BranchId> converters;
    std::vector<BranchId> devices;      // switches and cutoffs that its current can pass
    std::vector<BranchId> interrupting; // those of them that it has to pass
};

// Looks along a circuit from one thing to the next; made once, all look-ups are local.
class CommandTrace {
public:
    CommandTrace(const Circuit& circuit, const Nets& nets, const Design& design);

    PartId part_of(BranchId branch) const { return circuit_->branches[branch.value].part; }
    std::optional<BranchId> branch_of_element(PartId part, std::string_view element) const;
    std::vector<BranchId> consumers_of(PartId part) const; // its loads and coils
    NetSurroundings around(const std::vector<NodeId>& start, PartId own) const;
    const Supplying& supplying(BranchId consumer); // remembered

private:
    Supplying find_supplying(BranchId consumer) const;
    bool is_supply_line(NetId net) const { return supply_line_[net.value] != 0; }
    bool passes_signal(const Branch& branch) const;
    void add_terminals(NetId net, PartId own, NetSurroundings& found) const;

    const Circuit* circuit_;
    const Nets* nets_;
    const Design* design_;
    std::vector<std::vector<BranchId>> branches_of_part_; // [part]
    std::vector<std::vector<BranchId>> branches_at_;      // [net], without wires
    std::vector<char> supply_line_;                       // [net]
    CircuitParts split_;
    std::vector<BlockForest> loops_;    // [island]: everything closed
    std::vector<LoopEdges> loop_edges_; // [island]
    std::map<BranchId, Supplying> known_;
};

} // namespace trivet
