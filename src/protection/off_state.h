#pragma once

#include "protection/actuation.h"

#include <vector>

namespace trivet {

// How everything stands while no heater is meant to heat.
struct OffState {
    std::vector<char> on;         // [driver]: its position; on only where that is what opens the heater's way (contacts
                                  // that rest closed), and for what has to be on for that
    std::vector<BranchId> opened; // self-resetting cutoffs that regulate a heater, because nothing else does
    std::vector<char> heats;      // [driver]: whether a heater's current can pass one of its branches
};

OffState heaters_off(const Circuit& circuit, const Design& design, const std::vector<Actuation>& actuations);

} // namespace trivet
