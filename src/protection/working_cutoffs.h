#pragma once

#include "protection/actuation.h"
#include "protection/off_state.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace trivet {

// Which cutoffs back up a heater's control, and which are part of it.
struct WorkingCutoffs {
    std::vector<BranchId> working;    // sorted: independent cutoffs, and switches that only such a cutoff commands
    std::vector<BranchId> regulating; // sorted: thermostats that are the control or share its part

    bool is_working(BranchId id) const { return std::ranges::binary_search(working, id); }
    bool regulates(BranchId id) const { return std::ranges::binary_search(regulating, id); }
    auto operator<=>(const WorkingCutoffs&) const = default;
};

// For every heater, in the order of islands. Whether a cutoff is in this heater's way at all does not matter here.
std::vector<std::pair<BranchId, WorkingCutoffs>> working_cutoffs(const Circuit& circuit, const Design& design,
                                                                 const std::vector<Actuation>& actuations,
                                                                 const OffState& off);

} // namespace trivet
