#pragma once

#include "electrical/sparse_lu.h"
#include "thermal/network.h"

#include <array>
#include <span>
#include <vector>

namespace trivet {

// What every body of a network loses less what it gets, and the matrix of derivatives by all temperatures. Off-diagonal
// derivatives are never positive: a warmer neighbour never cools.
class HeatBalance {
public:
    HeatBalance(const ThermalNetwork& network, std::span<const double> on);

    void evaluate(const std::vector<double>& kelvin);
    double squared_norm() const;            // of the excess, W²
    bool closes_to(double tolerance) const; // relative to all power, or to rounding of the flows through the body

    // The temperature changes that would close a linear balance. `shift` adds that share of its links' conductances to
    // the diagonal of each body. False: the matrix is singular or, if `stable_only`, the balance is unstable, so that a
    // little more heat would drive some body away: some entry of the inverse's row sums is not positive.
    bool newton_step(double shift, bool stable_only, std::vector<double>& step);

    double power() const { return power_; } // of all sources at the temperatures last evaluated, W

private:
    void add_link(std::size_t index, const std::vector<double>& kelvin);

    const ThermalNetwork& network_;
    std::span<const double> on_;
    std::vector<std::array<std::size_t, 4>> slots_; // [link] places of from-from, from-to, to-from, to-to
    std::vector<std::size_t> diagonal_;             // [body]
    std::vector<double> excess_;                    // [body] W
    std::vector<double> matrix_;                    // compressed columns, W/K
    std::vector<double> conductance_;               // [body] of all its links, W/K
    std::vector<double> flow_scale_;                // [body] what rounding of its flows is relative to, W
    double power_ = 0.0;
    SparseLu lu_;
};

} // namespace trivet
