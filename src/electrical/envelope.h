#pragma once

#include "electrical/operating_point.h"

#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace trivet {

// A linear combination of node voltages somebody wants the extremes of: a voltage between two nodes, a drop over a
// line.
struct Probe {
    std::vector<std::pair<NodeId, double>> terms;
};

// The largest or smallest value over all states and corners, and where it occurs.
struct Extreme {
    double value = std::numeric_limits<double>::quiet_NaN(); // SI; NaN when never taken
    std::uint32_t state = 0;                                 // index into StateSet::states
    std::uint32_t corner = 0;                                // index into Envelope::corners
};

struct Span {
    Extreme lowest;
    Extreme highest;
};

// One combination of tolerance ends: for each parameter of the island its low or high end.
struct CornerChoice {
    IslandId island;
    std::vector<std::uint32_t> parameters; // the island's parameters that have a range
    std::vector<bool> high;
    std::vector<float> weight; // how much the deciding quantity depends on each, for the label
};

// Extremes of everything over states and deciding corners. For a small island the deciding corner of each quantity is
// found from the signs of its sensitivities (adjoint of the solved network); for a large one (over `grouped_above`
// parameters) sources, heaters, loads and conductors move in groups (16 corners) and `is_bound` is set.
struct Envelope {
    std::vector<Span> current;        // [branch], signed
    std::vector<Span> voltage;        // [branch], from - to, in every state
    std::vector<Span> voltage_on;     // [branch], only states in which the element carries its nominal share (is on)
    std::vector<Span> voltage_open;   // [branch], switches only: while open
    std::vector<Span> output_current; // [branch], converters
    std::vector<Span> output_voltage; // [branch], converters
    std::vector<Span> start_current;  // [branch], highest: moment of switching on, cold
    std::vector<Span> probe;          // [probe], states in which its branch is on
    std::vector<CornerChoice> corners;
    struct Collapse {
        NoOperatingPoint why;
        std::uint32_t state = 0;
        std::uint32_t corner = 0;
    };
    std::vector<Collapse> collapses;
    double worst_kirchhoff_residual = 0.0;
    std::size_t solutions = 0;
    bool is_bound = false;
};

struct ProbeOf {
    Probe probe;
    std::optional<BranchId> while_on; // count only states in which this branch is on
    IslandId island;
};

Envelope operating_envelope(const Circuit& circuit, const StateSet& states, std::span<const ProbeOf> probes,
                            std::size_t grouped_above = 200);

// "heat_switch on; supply voltage high, plate resistance low": the state and the few parameters that matter most.
std::string describe(const Extreme& extreme, const Envelope& envelope, const StateSet& states, const Circuit& circuit);

} // namespace trivet
