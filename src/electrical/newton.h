#pragma once

#include "electrical/mna.h"
#include "electrical/operating_point.h"
#include "electrical/sparse_lu.h"

#include <optional>

namespace trivet {

// Solves one island in one state, again and again for different parameter values, reusing pattern and memory.
class Solver {
public:
    // The island must outlive the solver's use of it.
    void prepare(const Island& island, const State& state, const Circuit& circuit);

    // Damped Newton. With `warm`, `iterate` is a solution for nearby values. False: nothing was found.
    bool solve(const Conditions& conditions, Iterate& iterate, bool warm = false);

    // The load or converter input that the solution leaves without enough voltage because of its own demand, judged
    // by the equivalent source that it sees while everything else stays connected (available power V²/4R). Always
    // something when `solved` is false.
    std::optional<NoOperatingPoint> collapse(const Conditions& conditions, const Iterate& iterate, bool solved);

    // Factors the Jacobian at the solution itself, for solve_transposed().
    bool linearise(const Conditions& conditions, const Iterate& iterate);

    const Island& island() const { return *island_; }
    const Network& network() const { return network_; }
    const Equations& equations() const { return equations_; }
    SparseLu& factors() { return lu_; }
    int iterations() const { return iterations_; }
    const std::vector<char>& closed() const { return closed_; }

private:
    void begin(const Conditions& conditions, Iterate& iterate);
    bool step(Iterate& iterate, bool new_pivots, double share);
    void move_linearisation(Iterate& iterate, const double* values, bool hold_collapsed);
    bool can_collapse(std::uint32_t edge) const;
    BranchId first_unusual() const;
    std::optional<NoOperatingPoint> judge(std::uint32_t edge, Conditions conditions);

    const Island* island_ = nullptr;
    std::vector<char> closed_;
    Network network_;
    Equations equations_;
    SparseLu lu_;
    std::vector<double> update_;
    Iterate without_; // of the network without the load that is judged
    int iterations_ = 0;
};

} // namespace trivet
