#pragma once

#include "protection/actuation.h"
#include "protection/off_state.h"

#include <optional>
#include <vector>

namespace trivet {

// A point of a heater element that touches metal which can be touched and is joined to a terminal.
struct InsulationFault {
    NodeId at;    // the element's end; a fault inside it finds the same loops, with part of the element in them
    NodeId metal; // where that metal is joined
    PartId owner; // the part whose metal it is
};

// A way in which a heater's current passes no working, independent cutoff.
struct Breach {
    BranchId heater;
    std::optional<PartId> shorted; // the ends of each of its elements joined
    std::optional<InsulationFault> insulation;
    bool past_switches = false; // with every switch open and every thermostat that regulates too
    std::vector<BranchId> path; // one such way, in order, from the heater's first end to its second or the metal;
                                // what is shorted is left out
};

// The cut-set question. No part shorted, then each in turn; no insulation fault, then each end of the heater to each
// bonded metal around it; and both together. A fault is listed only if fewer faults do not already give as much.
// Working cutoffs: those a single failure of the control leaves alone, and switches that such a cutoff commands. A
// shorted cutoff counts alone and with the switches open only: with a welded switch or an insulation fault as well, two
// guards would have failed.
// Time: parts of an island times the island, times two.
std::vector<Breach> find_breaches(const Circuit& circuit, const Design& design,
                                  const std::vector<Actuation>& actuations, const OffState& off);

// Where the metal around a heater is joined to the circuit: its own, that of the part it sits on, and of parts that sit
// on it or on the same body.
std::vector<InsulationFault> insulation_faults(const Circuit& circuit, const Design& design, BranchId heater);

} // namespace trivet
