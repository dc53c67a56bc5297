#pragma once

#include "protection/faulted_circuit.h"
#include "protection/ratings.h"

#include <limits>
#include <optional>
#include <vector>

namespace trivet {

// A heater that gets current while it should be off.
struct StuckOn {
    BranchId heater;
    double highest_power = std::numeric_limits<double>::quiet_NaN(); // W; NaN: there is no operating point
    bool needs_hand_switch = false;                                  // only while the hand switches are closed
    // Whose opening alone still ends it, and which the fault has not touched:
    std::vector<BranchId> cutoffs;
    std::vector<DriverId> hand_switches;
    std::vector<DriverId> switches;  // whose command comes from elsewhere than the fault
    bool all_cutoffs_end_it = false; // all of them together, if none alone does
};

// More than something bears, and more than without the fault.
struct Exceeded {
    Rating rating;
    double value = 0.0; // SI
};

struct FaultOutcome {
    std::vector<StuckOn> stuck_on;    // in branch order
    std::vector<Exceeded> exceeded;   // empty where a supply is overloaded: its limit or a fuse decides then
    std::vector<BranchId> unfed;      // loads, heaters and coils that get nothing with everything switched on
    std::vector<BranchId> overloaded; // sources asked for more than they give
    std::vector<BranchId> collapsed;  // loads and converters whose line cannot deliver what they ask for
};

// What every fault does, each alone, at the heaviest corner: all sources high, all resistances low, all loads at their
// most. Looked at in three ways: everything off; hand switches on, the rest off; everything on at once, what firmware
// promises never to do included. Consequences are followed: relays follow their coils, switches of boards without
// supply rest. Time: faults times the islands they touch.
struct FaultStudy {
    // Without any fault: a heater that is stuck on in it can never be switched off, or, where it needs a hand switch,
    // no control ever opens its way.
    FaultOutcome sound;
    std::vector<FaultOutcome> outcomes; // [fault case]: what is not so without the fault
    std::size_t solutions = 0;
};
FaultStudy study_faults(const Circuit& circuit, const Nets& nets, const Design& design,
                        const std::vector<Actuation>& actuations, const OffState& off,
                        const std::vector<FaultCase>& cases, const WireRating& wire_rating = {});

} // namespace trivet
