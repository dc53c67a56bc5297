#pragma once

#include "electrical/operating_point.h"
#include "protection/circuit_part.h"
#include "protection/fault_cases.h"

#include <optional>
#include <span>
#include <vector>

namespace trivet {

using Positions = std::vector<char>; // [driver]: on

// What one island does under a fault, in the numbers of the whole circuit's branches where `own` says so.
struct FaultedPoint {
    OperatingPoint point;            // numbers of the island's part
    std::vector<BranchId> collapsed; // loads and converters (whole numbers) that get too little and were left out
};

// A circuit with one fault in it, without copying more than the island that is asked about.
class FaultedCircuit {
public:
    FaultedCircuit(const Circuit& whole, const CircuitParts& split);

    // Replaces the fault before; without one the circuit is sound. `opened`: cutoffs that have tripped.
    void apply(const FaultCase* fault, std::span<const BranchId> opened);

    bool is_closed(BranchId branch, const Positions& on) const;
    bool is_removed(BranchId branch) const { return mark_[branch.value] == Mark::removed; }

    // The closed branches of an island; `weak`: also those that take power or pass little.
    void list_loops(std::uint32_t island, const Positions& on, bool weak, LoopEdges& edges) const;

    // Every source at its highest, every resistance at its lowest, every load at its most. Empty if there is no
    // operating point even without the loads that collapse.
    std::optional<FaultedPoint> solve(std::uint32_t island, const Positions& on);

    std::size_t solutions() const { return solutions_; }

private:
    enum class Mark : std::uint8_t { none, removed, closed, shorted };

    void change(Circuit& circuit, ParameterValues& values, std::uint32_t island, const CircuitPart& part) const;

    const Circuit* whole_;
    const CircuitParts* split_;
    const FaultCase* fault_ = nullptr;
    std::vector<Mark> mark_; // [branch]
    std::vector<BranchId> marked_;
    std::vector<ParameterValues> heaviest_; // [island]
    std::size_t solutions_ = 0;
};

} // namespace trivet
