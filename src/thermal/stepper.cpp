#include "thermal/stepper.h"

#include "thermal/rosenbrock.h"

#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::vector<double>;
using DormandPrince = odeint::result_of::make_controlled<odeint::runge_kutta_dopri5<State>>::type;

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
    State first, first_rate, last, last_rate, between; // of the last explicit step
    double before = 0.0;
    double now = 0.0;
    double step = 0.0;
    std::unique_ptr<Rosenbrock> rosenbrock; // made when first needed
    bool implicit = false;

    Methods(HeatRates& heat_rates, double kelvin)
        : rates(heat_rates)
        , tolerance(kelvin)
        , dormand_prince(odeint::make_controlled(kelvin, 0.0, odeint::runge_kutta_dopri5<State>())) {
        for (State* state : {&first, &first_rate, &last, &last_rate, &between}) state->resize(rates.unknowns());
    }

    void start_explicit(std::span<const double> state, double time, double length) {
        std::ranges::copy(state, last.begin());
        rates.rates(last, last_rate);
        before = now = time;
        step = length;
    }

    // Odeint's own stepper with dense output throws when no step works; this one says so.
    bool advance_explicit() {
        constexpr int most_rejections = 200;
        first.swap(last);
        first_rate.swap(last_rate);
        before = now;
        const auto system = [this](const State& state, State& result, double) {
            rates.rates(state, result);
            forbid_what_is_no_number(result);
        };
        for (int rejections = 0; rejections < most_rejections && now + step > now; ++rejections)
            if (dormand_prince.try_step(system, first, first_rate, now, last, last_rate, step) == odeint::success)
                return std::ranges::all_of(last, [](double value) { return std::isfinite(value); });
        return false;
    }
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
        own.start_explicit(state, time, step);
    }
}

bool Stepper::advance() { return methods_->implicit ? methods_->rosenbrock->advance() : methods_->advance_explicit(); }

double Stepper::before() const { return methods_->implicit ? methods_->rosenbrock->before() : methods_->before; }

double Stepper::now() const { return methods_->implicit ? methods_->rosenbrock->now() : methods_->now; }

std::span<const double> Stepper::at(double time) {
    Methods& own = *methods_;
    if (own.implicit) return own.rosenbrock->at(time);
    own.dormand_prince.stepper().calc_state(time, own.between, own.first, own.first_rate, own.before, own.last,
                                            own.last_rate, own.now);
    return own.between;
}

} // namespace trivet
