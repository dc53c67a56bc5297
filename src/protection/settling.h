#pragma once

#include "protection/faulted_circuit.h"

#include <vector>

namespace trivet {

// Finds the positions switches take by themselves: a relay follows its coil, a module without supply lets go, and an
// input behind a board without supply rests where it is held.
class Settling {
public:
    Settling(const Circuit& circuit, const Nets& nets, const Design& design, const std::vector<Actuation>& actuations,
             const CircuitParts& split);

    // Starts from `on` and the islands given, and adds the islands in which something changes because of that. Forced
    // drivers stay. Rings of relays end after as many rounds as there are drivers.
    void settle(const FaultedCircuit& faulted, const FaultCase* fault, Positions& on,
                std::vector<std::uint32_t>& islands) const;

    const std::vector<std::uint32_t>& islands_of(DriverId driver) const { return islands_of_driver_[driver.value]; }

private:
    struct Follower {
        DriverId driver;
        std::optional<BranchId> coil;              // it follows whether current flows in it
        std::vector<BranchId> module;              // what its own electronics draw
        std::vector<std::vector<BranchId>> boards; // the same of each board behind its input
        bool rests_on = false;                     // without a live board
    };

    class Fed; // answers whether a branch is fed, building loops as they are needed
    std::optional<bool> position(const Follower& follower, Fed& fed) const;
    Follower follower_of(const Nets& nets, const Design& design, const Actuation& actuation, Fed& sound) const;

    const Circuit* circuit_;
    const CircuitParts* split_;
    std::vector<std::vector<BranchId>> loads_of_part_;
    std::vector<Follower> followers_;
    std::vector<std::vector<std::size_t>> followers_of_island_; // [island]: indexes into followers_
    std::vector<std::vector<std::uint32_t>> islands_of_driver_; // [driver]: where its branches are
};

} // namespace trivet
