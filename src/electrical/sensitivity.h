#pragma once

#include "electrical/newton.h"

namespace trivet {

// How far quantities of a solved network move when a ranged parameter goes from its low to its high end, to first
// order. Adjoint method (Director and Rohrer 1969): with F(x, p) = 0 and q = c·x, solve Jᵀ λ = c, then dq/dp =
// -λ·dF/dp: one transposed solution per quantity, whatever the number of parameters.
class Sensitivity {
public:
    // The solver must have been linearised at `iterate` and stay so while quantities are asked for.
    void at(Solver& solver, const Conditions& conditions, const Iterate& iterate);

    // Each: [index into Island::ranged]; valid until the next call.
    const std::vector<double>& of_current(std::uint32_t edge);
    const std::vector<double>& of_voltage(std::uint32_t edge); // across a whole edge, from - to
    const std::vector<double>& of_link(std::uint32_t link);    // drop over it, own direction
    const std::vector<double>& of_nodes(const std::vector<std::pair<std::uint32_t, double>>& terms); // own nodes

private:
    struct Effect {
        std::uint32_t row[2] = {nowhere, nowhere};
        double partial[2] = {0.0, 0.0}; // dF/dp times the parameter's width
    };
    void list_effects();
    void add_node(std::uint32_t node, double factor);
    void solve();
    void add_own(std::uint32_t branch, const double* partial, double factor);

    Solver* solver_ = nullptr;
    const Iterate* iterate_ = nullptr;
    Conditions conditions_;
    std::vector<std::uint32_t> rank_; // [own parameter]: index into Island::ranged, or nowhere
    std::vector<Effect> effects_;
    std::vector<double> adjoint_;
    std::vector<double> own_;     // what the parameters do to the quantity with all unknowns held
    std::vector<double> current_; // of_current(current_edge_), kept for the links of the same edge
    std::vector<double> result_;
    std::uint32_t current_edge_ = nowhere;
};

} // namespace trivet
