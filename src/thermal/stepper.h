#pragma once

#include "thermal/rates.h"

#include <memory>

namespace trivet {

// Steps through time with an answer at every moment of the last step: Dormand-Prince 5(4) with its fourth-order
// interpolant from Boost.Odeint (Hairer, Norsett, Wanner: Solving Ordinary Differential Equations I, section II.6), or
// Rosenbrock (rosenbrock.h) where a fast part of the network would make that method take many steps.
class Stepper {
public:
    Stepper(HeatRates& rates, double tolerance); // of every component in every step, K
    ~Stepper();
    Stepper(const Stepper&) = delete;
    Stepper& operator=(const Stepper&) = delete;

    void start(std::span<const double> state, double time, double step, bool implicit);
    bool advance(); // false: no step works, however short
    double before() const;
    double now() const;
    std::span<const double> at(double time); // within the last step; valid until the next call

private:
    struct Methods;
    std::unique_ptr<Methods> methods_;
};

} // namespace trivet
