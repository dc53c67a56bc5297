#pragma once

#include "electrical/sparse_lu.h"
#include "thermal/rates.h"

namespace trivet {

// RODAS: six-stage stiffly accurate Rosenbrock method of order 4(3) with a third-order interpolant (Hairer, Wanner:
// Solving Ordinary Differential Equations II, section IV.7) and a predictive choice of steps, on a sparse matrix.
// Keeps sums that the rates keep, as the matrix has them, too.
class Rosenbrock {
public:
    Rosenbrock(HeatRates& rates, double tolerance); // of every component in every step, K

    void start(std::span<const double> state, double time, double step);
    bool advance(); // false: no step works, however short
    double before() const { return before_; }
    double now() const { return now_; }
    std::span<const double> at(double time); // within the last step

private:
    bool factor(double step);
    bool stages(double step); // from the last point to `next_` and `error_`
    bool stage(std::vector<double>& result, double step, std::span<const double> weights);
    void shift(std::span<const double> weights);
    double excess() const;
    void prepare_interpolation();

    HeatRates& rates_;
    double tolerance_;
    SparseLu lu_;
    std::vector<JacobianTerm> terms_;
    std::vector<std::size_t> slots_;    // [term] where it goes
    std::vector<std::size_t> diagonal_; // [component]
    std::vector<double> matrix_;
    std::vector<std::vector<double>> parts_; // [stage] what each contributes
    std::vector<double> state_, next_, rate_, error_, third_, fourth_, answer_;
    double before_ = 0.0;
    double now_ = 0.0;
    double step_ = 0.0;
    double last_step_ = 0.0; // 0: none yet
    double last_excess_ = 0.0;
};

} // namespace trivet
