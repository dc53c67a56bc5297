#include "thermal/stepper.h"

#include "thermal/rosenbrock.h"

#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/dense_output_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace trivet {

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::vector<double>;
using DormandPrince = odeint::result_of::make_dense_output<odeint::runge_kutta_dopri5<State>>::type;

// A trial step far beyond any temperature: Odeint would take an error that is no number for a small one.
void forbid_what_is_no_number(State& rates) {
    constexpr double rejected = 1e100;
    for (double& rate : rates)
        if (!std::isfinite(rate)) rate = rejected;
}

} // namespace

struct Stepper::Methods {
    HeatRates& rates;
    double tolerance;
    DormandPrince dormand_prince;
    State state;
    std::unique_ptr<Rosenbrock> rosenbrock; // made when first needed
    bool implicit = false;

    Methods(HeatRates& heat_rates, double kelvin)
        : rates(heat_rates)
        , tolerance(kelvin)
        , dormand_prince(odeint::make_dense_output(kelvin, 0.0, odeint::runge_kutta_dopri5<State>()))
        , state(heat_rates.unknowns()) {}
};

Stepper::Stepper(HeatRates& rates, double tolerance)
    : methods_(std::make_unique<Methods>(rates, tolerance)) {}

Stepper::~Stepper() = default;

void Stepper::start(std::span<const double> state, double time, double step, bool implicit) {
    Methods& own = *methods_;
    own.implicit = implicit;
    if (implicit) {
        if (!own.rosenbrock) own.rosenbrock = std::make_unique<Rosenbrock>(own.rates, own.tolerance);
        own.rosenbrock->start(state, time, step);
    } else {
        std::ranges::copy(state, own.state.begin());
        own.dormand_prince.initialize(own.state, time, step);
    }
}

bool Stepper::advance() {
    Methods& own = *methods_;
    if (own.implicit) return own.rosenbrock->advance();
    try {
        own.dormand_prince.do_step([&own](const State& state, State& result, double) {
            own.rates.rates(state, result);
            forbid_what_is_no_number(result);
        });
    } catch (const std::runtime_error&) { // how Odeint says that no step was short enough
        return false;
    }
    return now() > before() &&
           std::ranges::all_of(own.dormand_prince.current_state(), [](double value) { return std::isfinite(value); });
}

double Stepper::before() const {
    return methods_->implicit ? methods_->rosenbrock->before() : methods_->dormand_prince.previous_time();
}

double Stepper::now() const {
    return methods_->implicit ? methods_->rosenbrock->now() : methods_->dormand_prince.current_time();
}

std::span<const double> Stepper::at(double time) {
    Methods& own = *methods_;
    if (own.implicit) return own.rosenbrock->at(time);
    own.dormand_prince.calc_state(time, own.state);
    return own.state;
}

bool Stepper::implicit() const { return methods_->implicit; }

} // namespace trivet
