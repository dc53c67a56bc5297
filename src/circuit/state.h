#pragma once

#include "circuit/circuit.h"

#include <string>
#include <vector>

namespace trivet {

// One combination of switch positions within one island: which of its drivers are on.
struct State {
    IslandId island;
    std::vector<DriverId> on; // sorted; all other drivers of the island are off
};

// The states that are solved. Drivers of different islands cannot influence each other, so states are per island; an
// island without branches has none. Up to `exhaustive_drivers` drivers an island's combinations are enumerated; beyond
// that: all off, all on, each alone, each missing (beyond 200 only the first two), and `is_bound` is set, which
// findings mention. States a [[control]] rules out with never_with are left out and listed in `assumptions`, because a
// firmware promise counts for normal running only; "all on" is then as many as it allows, with each of the excluded
// ones once.
struct StateSet {
    std::vector<State> states;
    std::vector<std::vector<std::uint32_t>> of_island; // indexes into states
    bool is_bound = false;
    std::vector<std::string> assumptions;
};
StateSet reachable_states(const Circuit& circuit, const Design& design, std::size_t exhaustive_drivers = 5);

bool is_closed(const Branch& branch, const State& state); // true for everything that is not a switch

std::string to_text(const State& state,
                    const Circuit& circuit); // "heat_switch on, fan_switch off"; "always" without drivers

} // namespace trivet
