#include "thermal/transient.h"

#include "thermal/exact_linear.h"
#include "thermal/hand_network.h"

#include <gtest/gtest.h>

#include <numbers>

namespace trivet {
namespace {

using testing::ExactLinear;
using testing::HandNetwork;
using testing::run_for;
using testing::two_point;

// Incropera et al., Fundamentals of Heat and Mass Transfer, example 5.1: a sphere of 0.706 mm (8500 kg/m³, 400 J/(kg
// K)) in gas at 200 °C, 400 W/(m² K), takes 5.2 s from 25 °C to 199 °C. Unrounded: tau ln 175.
TEST(Transient, SphereInHotGas) {
    const double diameter = 7.06e-4;
    const double area = std::numbers::pi * diameter * diameter;
    HandNetwork gas(200.0);
    gas.body(8500.0 * 400.0 * area * diameter / 6.0);
    gas.path(0, room, 400.0 * area);
    RunSetup setup = run_for(60.0);
    setup.start = {celsius(25.0)};
    setup.cutoffs = {{{0, {}}, celsius(199.0), {}}};
    setup.most_switchings = 1;
    const auto run = simulate(gas, setup);
    ASSERT_EQ(run.switchings.size(), 1u);
    EXPECT_NEAR(run.ended.si, 8500.0 * 400.0 * diameter / 6.0 / 400.0 * std::log(175.0), 1e-4);
    EXPECT_NEAR(run.ended.si, 5.2, 0.05);
}

// Cengel, Heat and Mass Transfer, example 1-2: 1.2 kg of water (4.186 kJ/(kg K)) and 0.5 kg of vessel (0.7 kJ/(kg K))
// from 15 °C to 95 °C with 1200 W: 358 s.
TEST(Transient, WaterHeatedWithoutLoss) {
    HandNetwork network(15.0);
    network.body(1.2 * 4186.0 + 0.5 * 700.0);
    network.heat(0, 1200.0);
    RunSetup setup = run_for(1000.0);
    setup.cutoffs = {{{0, {}}, celsius(95.0), {}}};
    setup.most_switchings = 1;
    const auto run = simulate(network, setup);
    EXPECT_NEAR(run.ended.si, 358.0, 0.5);
    EXPECT_NEAR(run.supplied.si, 429.9e3, 0.1e3);
    EXPECT_EQ(run.lost.si, 0.0);
}

// Cengel, Heat and Mass Transfer, example 1-1: a copper ball of 10 cm (8950 kg/m³, 0.395 kJ/(kg K)) from 100 °C to
// 150 °C takes up 92.6 kJ, here at the example's 51.4 W in 30 min.
TEST(Transient, CopperBallHeatedInHalfAnHour) {
    HandNetwork network(100.0);
    network.body(8950.0 * std::numbers::pi * 0.001 / 6.0 * 395.0);
    network.heat(0, 92.55e3 / 1800.0);
    const auto run = simulate(network, run_for(1800.0));
    EXPECT_NEAR(in_celsius(run.end[0]), 150.0, 0.05);
    EXPECT_NEAR(run.stored.si, 92.6e3, 0.1e3);
}

// Ice at 0 °C, 334 kJ/kg (handbook value, from memory): 0.1 kg melts in 334 s at 100 W, whatever its small melting
// range.
TEST(Transient, IceMeltsAtConstantPower) {
    HandNetwork network(-10.0);
    network.body(0.1 * 2100.0, "ice");
    network.melts(0, 0.0, 0.01, 33.4e3);
    network.heat(0, 100.0);
    RunSetup setup = run_for(600.0);
    setup.record = true;
    setup.cutoffs = {{{0, {}}, celsius(0.01), {}}};
    setup.most_switchings = 1;
    const auto run = simulate(network, setup);
    const double sensible = 0.1 * 2100.0 * 10.01;
    EXPECT_NEAR(run.ended.si, (sensible + 33.4e3) / 100.0, 1e-6);
}

// While it melts over 1 K it stores (C + L/1 K) per kelvin, so that both phases are plain exponentials.
TEST(Transient, MeltingWithLossIsTwoTimeConstants) {
    HandNetwork network(20.0);
    network.body(100.0, "wax");
    network.melts(0, 50.0, 51.0, 10e3);
    network.path(0, room, 1.0);
    network.heat(0, 60.0);
    RunSetup setup = run_for(20000.0);
    setup.cutoffs = {{{0, {}}, celsius(51.0), {}}};
    setup.most_switchings = 1;
    const double heating = 100.0 * std::log(60.0 / 30.0);
    const double melting = (100.0 + 10e3) * std::log(30.0 / 29.0);
    EXPECT_NEAR(simulate(network, setup).ended.si, heating + melting, 1e-5 * (heating + melting));
}

HandNetwork two_bodies() {
    HandNetwork network(20.0);
    network.body(120.0, "plate");
    network.body(900.0, "pot");
    network.path(0, 1, 2.0);
    network.path(1, room, 0.7);
    network.path(0, room, 0.2);
    network.heat(0, 50.0);
    return network;
}

// Both exponentials of two coupled lumps, from the characteristic polynomial.
TEST(Transient, TwoBodiesHaveTwoExponentials) {
    const auto run = simulate(two_bodies(), run_for(400.0));
    const double a = -2.2 / 120.0, b = 2.0 / 120.0, c = 2.0 / 900.0, d = -2.7 / 900.0;
    const double root = std::sqrt(0.25 * (a - d) * (a - d) + b * c);
    const double slow = 0.5 * (a + d) + root, fast = 0.5 * (a + d) - root;
    const double plate_rest = 50.0 * 2.7 / (2.2 * 2.7 - 4.0), pot_rest = 50.0 * 2.0 / (2.2 * 2.7 - 4.0);
    // (T - rest) = p (1, (slow - a)/b) exp(slow t) + q (1, (fast - a)/b) exp(fast t), from -rest
    const double slow_slope = (slow - a) / b, fast_slope = (fast - a) / b;
    const double p = (-pot_rest + plate_rest * fast_slope) / (slow_slope - fast_slope), q = -plate_rest - p;
    const double plate = plate_rest + p * std::exp(slow * 400.0) + q * std::exp(fast * 400.0);
    const double pot = pot_rest + p * slow_slope * std::exp(slow * 400.0) + q * fast_slope * std::exp(fast * 400.0);
    EXPECT_NEAR(in_celsius(run.end[0]) - 20.0, plate, 1e-4 * plate);
    EXPECT_NEAR(in_celsius(run.end[1]) - 20.0, pot, 1e-4 * pot);
}

TEST(Transient, ToleranceChangesNothingBeyondItself) {
    HandNetwork network = two_bodies();
    network.faces(1, room, 0.02, 0.1, Facing::vertical, 0.9);
    const auto finest = simulate(network, run_for(3000.0, 1e-10));
    for (const double tolerance : {1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9}) {
        const auto run = simulate(network, run_for(3000.0, tolerance));
        for (std::size_t i = 0; i < 2; ++i)
            EXPECT_NEAR(run.end[i].si, finest.end[i].si, 100.0 * tolerance) << tolerance;
    }
}

// A bead of 0.05 J/K on a plate of 2 kJ/K: explicit steps would have to stay below 0.1 s for a day.
TEST(Transient, StiffNetworkTakesFewSteps) {
    HandNetwork network(20.0);
    network.body(2000.0, "plate");
    network.body(0.05, "bead");
    network.path(0, room, 1.0);
    network.path(1, 0, 0.5);
    network.heat(0, 50.0);
    const ExactLinear exact(network, 0, 0.0);
    const Eigen::VectorXd cold = Eigen::VectorXd::Constant(2, network.ambient.si);
    for (const double time : {0.2, 10.0, 3000.0, 86400.0}) {
        const auto run = simulate(network, run_for(time));
        const Eigen::VectorXd expected = exact.after(cold, true, time);
        EXPECT_NEAR(run.end[0].si, expected(0), 1e-3) << time;
        EXPECT_NEAR(run.end[1].si, expected(1), 1e-3) << time;
        EXPECT_LT(run.steps, 300u) << time;
    }
}

// From a sensor that explicit steps follow easily to one that takes implicit ones, at every recorded moment and
// between.
TEST(Transient, ExplicitAndImplicitStepsAgreeWithTheMatrixExponential) {
    for (const double small : {100.0, 5.0, 0.2, 0.01}) {
        HandNetwork network = two_bodies();
        network.body(small, "sensor");
        network.path(2, 1, 0.3);
        const ExactLinear exact(network, 0, 0.0);
        const Eigen::VectorXd cold = Eigen::VectorXd::Constant(3, network.ambient.si);
        RunSetup setup = run_for(2000.0);
        setup.record = true;
        setup.record_every = {7.0};
        const auto run = simulate(network, setup);
        ASSERT_EQ(run.temperatures.size(), 3 * run.times.size());
        for (std::size_t row = 0; row < run.times.size(); ++row) {
            const Eigen::VectorXd expected = exact.after(cold, true, run.times[row].si);
            for (std::size_t i = 0; i < 3; ++i)
                ASSERT_NEAR(run.temperatures[3 * row + i].si, expected(static_cast<Eigen::Index>(i)), 1e-3) << small;
        }
    }
}

// After the heater's switch-off its neighbour goes on getting warmer, to a peak between two steps.
TEST(Transient, HighestTemperatureLiesAfterTheSwitching) {
    HandNetwork network = two_bodies();
    network.sources[0].cutoffs = {0};
    RunSetup setup = run_for(3000.0);
    setup.cutoffs = {{{0, {}}, celsius(60.0), {}}};
    const auto run = simulate(network, setup);
    const ExactLinear exact(network, 0, 0.0);
    const Eigen::VectorXd cold = Eigen::VectorXd::Constant(2, network.ambient.si);
    const double off = exact.time_to(cold, true, celsius(60.0).si, 1.0);
    const Eigen::VectorXd then = exact.after(cold, true, off);
    double peak = 0.0, peak_at = 0.0;
    for (double time = 0.0; time < 600.0; time += 0.05) {
        const double pot = exact.after(then, false, time)(1);
        if (pot > peak) peak_at = off + time;
        peak = std::max(peak, pot);
    }
    ASSERT_EQ(run.switchings.size(), 1u);
    EXPECT_NEAR(run.switchings[0].at.si, off, 1e-4);
    EXPECT_NEAR(run.highest[1].si, peak, 1e-4);
    EXPECT_NEAR(run.highest_at[1].si, peak_at, 0.5);
    EXPECT_NEAR(run.highest[0].si, celsius(60.0).si, 1e-6);
    EXPECT_EQ(run.lowest[0].si, network.ambient.si);
}

// The pot's peak reaches a cutoff's temperature by a hair and falls again within one step.
TEST(Transient, CrossingAndReturnWithinAStepIsSeen) {
    HandNetwork network = two_bodies();
    RunSetup setup = run_for(3000.0);
    network.sources[0].cutoffs = {0};
    setup.cutoffs = {{{0, {}}, celsius(60.0), {}}};
    const Temperature peak = simulate(network, setup).highest[1];
    for (const double below : {0.1, 1e-2, 1e-4, 1e-6}) {
        setup.cutoffs.resize(1);
        setup.cutoffs.push_back({{1, {}}, peak - TemperatureDifference{below}, {}});
        EXPECT_EQ(simulate(network, setup).switchings.size(), 2u) << below;
        setup.cutoffs.back().opens = peak + TemperatureDifference{below};
        EXPECT_EQ(simulate(network, setup).switchings.size(), 1u) << below;
    }
}

TEST(Transient, RecordHoldsFirstLastAndRisingTimes) {
    RunSetup setup = run_for(100.0);
    setup.record = true;
    const HandNetwork network = two_bodies();
    const auto run = simulate(network, setup);
    ASSERT_GE(run.times.size(), 3u);
    EXPECT_EQ(run.times.front().si, 0.0);
    EXPECT_EQ(run.times.back().si, 100.0);
    EXPECT_EQ(run.ended.si, 100.0);
    for (std::size_t i = 1; i < run.times.size(); ++i) EXPECT_GT(run.times[i], run.times[i - 1]);
    EXPECT_EQ(run.temperatures.front(), network.ambient);
    EXPECT_EQ(run.temperatures.back(), run.end[1]);
}

TEST(Transient, StopEndsTheRunAfterTheSwitchingItWaitsFor) {
    HandNetwork network = testing::first_order();
    RunSetup setup = run_for(10000.0);
    setup.controls = {two_point(0, 53.0, 57.0)};
    setup.stop = [](Time, std::span<const double> kelvin) { return kelvin[0] >= celsius(57.0).si - 1e-6; };
    const auto run = simulate(network, setup);
    ASSERT_TRUE(run.first_off[0].has_value());
    EXPECT_NEAR(run.ended.si, 300.0 * std::log(100.0 / 63.0), 1e-3);
    EXPECT_EQ(run.first_off[0]->si, run.ended.si);
    EXPECT_FALSE(run.on_end[0]);
}

// A feeler with a lag behind a body whose temperature rises evenly stays behind by lag times rate (textbook ramp
// response of a first-order system).
TEST(Transient, LagBehindARamp) {
    HandNetwork network(20.0);
    network.body(100.0);
    network.heat(0, 10.0);
    RunSetup setup = run_for(600.0);
    setup.controls = {two_point(0, 500.0, 510.0, 0.0, 15.0)};
    const auto run = simulate(network, setup);
    EXPECT_NEAR(run.end[0].si - run.felt_end[0].si, 0.1 * 15.0, 1e-4);
    EXPECT_EQ(run.felt_lowest[0].si, network.ambient.si);
    EXPECT_EQ(run.felt_highest[0].si, run.felt_end[0].si);
}

TEST(Transient, FeelerThatHasComeOffFeelsTheRoom) {
    HandNetwork network = testing::first_order();
    for (const double lag : {0.0, 20.0}) {
        RunSetup setup = run_for(5000.0);
        setup.controls = {two_point(room, 53.0, 57.0, 0.0, lag)};
        const auto run = simulate(network, setup);
        EXPECT_TRUE(run.on_end[0]);
        EXPECT_TRUE(run.switchings.empty());
        EXPECT_NEAR(in_celsius(run.end[0]), 120.0, 1e-3);
        EXPECT_NEAR(in_celsius(run.felt_end[0]), 20.0, 1e-9);
    }
}

// A control that a run leaves out keeps its switch closed.
TEST(Transient, ControlLeftOutIsClosed) {
    HandNetwork network = testing::first_order();
    network.sources[0].control = 5;
    network.sources[0].cutoffs = {3};
    const auto run = simulate(network, run_for(5000.0));
    EXPECT_NEAR(in_celsius(run.end[0]), 120.0, 1e-3);
    EXPECT_NEAR(run.supplied.si, 100.0 * 5000.0, 1e-3);
    EXPECT_LT(testing::energy_imbalance(run), 1e-9);
}

// Each step costs the same per body: a thousand bodies in a row are followed for an hour in a bounded number of steps.
TEST(Transient, ChainOfAThousandBodies) {
    HandNetwork network(20.0);
    for (int i = 0; i < 1000; ++i) network.body(50.0);
    for (std::uint32_t i = 0; i < 1000; ++i) network.path(i, room, 0.02);
    for (std::uint32_t i = 1; i < 1000; ++i) network.path(i - 1, i, 1.0);
    network.heat(0, 10.0);
    const auto run = simulate(network, run_for(3600.0));
    EXPECT_EQ(run.ended.si, 3600.0);
    EXPECT_LT(run.steps, 400u);
    EXPECT_LT(testing::energy_imbalance(run), 1e-6);
}

} // namespace
} // namespace trivet
