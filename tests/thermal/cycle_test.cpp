#include "thermal/cycle.h"

#include "thermal/exact_linear.h"
#include "thermal/hand_network.h"
#include "thermal/steady.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

using testing::ExactLinear;
using testing::first_order;
using testing::HandNetwork;
using testing::run_for;
using testing::two_point;

struct TwoTimes {
    double on = 0.0;
    double off = 0.0;
};

// One lump with 300 s and 100 K of rise in a room at 20 °C: its exponentials between two temperatures, each prolonged
// by the delay (first-order lumped model, e.g. Incropera et al. section 5.3).
TwoTimes first_order_times(double low, double high, double delay) {
    const double decay = std::exp(-delay / 300.0);
    const double peak = 120.0 - (120.0 - high) * decay;
    const double trough = 20.0 + (low - 20.0) * decay;
    return {300.0 * std::log((120.0 - trough) / (120.0 - high)) + delay,
            300.0 * std::log((peak - 20.0) / (low - 20.0)) + delay};
}

RunSetup controlled(std::vector<TwoPoint> controls, double seconds = 1e5, double tolerance = 1e-6) {
    RunSetup setup = run_for(seconds, tolerance);
    setup.controls = std::move(controls);
    return setup;
}

TEST(Cycling, SingleBodyFollowsTheClosedForm) {
    struct Row {
        double low, high, delay;
    };
    for (const Row& row : {Row{53, 57, 0}, Row{30, 90, 0}, Row{54.9, 55.1, 0}, Row{53, 57, 10}, Row{55, 55, 5},
                           Row{110, 119, 0}, Row{21, 22, 3}}) {
        const RunSetup setup = controlled({two_point(0, row.low, row.high, row.delay)});
        const Cycle cycle = periodic_running(first_order(), setup)[0];
        const TwoTimes expected = first_order_times(row.low, row.high, row.delay);
        EXPECT_TRUE(cycle.found && cycle.cycles) << row.low;
        EXPECT_LE(cycle.residual, 1e-3);
        EXPECT_NEAR(cycle.on_time.si, expected.on, 1e-6 * expected.on) << row.low << ' ' << row.delay;
        EXPECT_NEAR(cycle.period.si, expected.on + expected.off, 1e-6 * (expected.on + expected.off)) << row.low;
        EXPECT_NEAR(cycle.duty, expected.on / (expected.on + expected.off), 1e-6);
        EXPECT_NEAR(cycle.mean_power.si, 100.0 * cycle.duty, 1e-3);
        const double decay = std::exp(-row.delay / 300.0);
        EXPECT_NEAR(in_celsius(cycle.highest[0]), 120.0 - (120.0 - row.high) * decay, 1e-4);
        EXPECT_NEAR(in_celsius(cycle.lowest[0]), 20.0 + (row.low - 20.0) * decay, 1e-4);
        EXPECT_EQ(cycle.felt_highest, cycle.highest[0]);
    }
}

// In a narrow band the duty is the rise over the rise at full power, (55 - 20)/100, and the period is
// tau * band * rise / (part * rest) = 300 * 4 * 100 / (35 * 65) = 52.75 s for a band of 4 K, to the square of the band.
TEST(Cycling, NarrowBandLimits) {
    const Cycle wide = periodic_running(first_order(), controlled({two_point(0, 53, 57)}))[0];
    EXPECT_NEAR(wide.duty, 0.35, 2e-3);
    EXPECT_NEAR(wide.period.si, 52.75, 0.1);
    const Cycle narrow = periodic_running(first_order(), controlled({two_point(0, 54.95, 55.05)}))[0];
    EXPECT_NEAR(narrow.duty, 0.35, 1e-5);
    EXPECT_NEAR(narrow.period.si, 52.747 / 40.0, 1e-4);
}

// Simulated from cold it settles into the same cycle.
TEST(Cycling, LongRunEndsInThePeriodicState) {
    RunSetup setup = controlled({two_point(0, 53, 57)}, 5000.0, 1e-9);
    const auto run = simulate(first_order(), setup);
    const TwoTimes expected = first_order_times(53, 57, 0);
    ASSERT_GT(run.switchings.size(), 100u);
    for (std::size_t i = 1; i < run.switchings.size(); ++i) {
        const bool heats = run.switchings[i - 1].closes;
        EXPECT_NE(run.switchings[i].closes, heats);
        const double length = (run.switchings[i].at - run.switchings[i - 1].at).si;
        EXPECT_NEAR(length, heats ? expected.on : expected.off, 1e-6 * length);
    }
    EXPECT_NEAR(run.first_off[0]->si, 300.0 * std::log(100.0 / 63.0), 1e-6);
    EXPECT_NEAR(in_celsius(run.highest[0]), 57.0, 1e-6);
}

// Plate, pot and a sensor with a lag, with and without delay, against many cycles by the matrix exponential.
TEST(Cycling, LagAndDelayAgainstTheMatrixExponential) {
    HandNetwork network(20.0);
    network.body(120.0, "plate");
    network.body(900.0, "pot");
    network.path(0, 1, 2.0);
    network.path(1, room, 0.7);
    network.path(0, room, 0.2);
    network.heat(0, 80.0).control = 0;
    for (const auto& [lag, delay] : {std::pair{15.0, 0.0}, {15.0, 5.0}, {0.0, 5.0}, {60.0, 0.0}}) {
        const ExactLinear exact(network, 0, lag);
        Eigen::VectorXd state = exact.rest(false);
        double on = 0.0, off = 0.0, high = 0.0, low = 0.0;
        for (int cycle = 0; cycle < 200; ++cycle) {
            on = exact.time_to(state, true, celsius(61).si, 1.0) + delay;
            const Eigen::VectorXd hot = exact.after(state, true, on);
            off = exact.time_to(hot, false, celsius(59).si, 1.0) + delay;
            const Eigen::VectorXd next = exact.after(hot, false, off);
            high = low = hot(0);
            for (double t = 0.0; t < 1.0; t += 0.001) {
                high = std::max({high, exact.after(state, true, t * on)(0), exact.after(hot, false, t * off)(0)});
                low = std::min({low, exact.after(state, true, t * on)(0), exact.after(hot, false, t * off)(0)});
                if (cycle < 199) break;
            }
            state = next;
        }
        const Cycle cycle = periodic_running(network, controlled({two_point(0, 59, 61, delay, lag)}))[0];
        EXPECT_TRUE(cycle.found && cycle.cycles);
        EXPECT_NEAR(cycle.on_time.si, on, 1e-4 * on) << lag << ' ' << delay;
        EXPECT_NEAR(cycle.period.si, on + off, 1e-4 * (on + off)) << lag << ' ' << delay;
        EXPECT_NEAR(cycle.highest[0].si, high, 1e-3) << lag << ' ' << delay;
        EXPECT_NEAR(cycle.lowest[0].si, low, 1e-3) << lag << ' ' << delay;
        EXPECT_GE(cycle.felt_highest.si, celsius(61).si - 1e-6);
        EXPECT_LE(cycle.felt_highest.si, cycle.highest[0].si + 1e-6);
    }
}

// A mass that takes a day to settle behind a plate that cycles in minutes: no need to follow the day.
TEST(Cycling, SlowMassIsFoundInAFewCycles) {
    HandNetwork network(20.0);
    network.body(100.0, "plate");
    network.body(50000.0, "block");
    network.path(0, 1, 1.5);
    network.path(1, room, 0.6);
    network.path(0, room, 0.3);
    network.heat(0, 90.0).control = 0;
    const RunSetup setup = controlled({two_point(0, 55, 65)});
    const Cycle cycle = periodic_running(network, setup)[0];
    RunSetup days = setup;
    days.until = {20.0 * 86400.0};
    days.most_switchings = 1'000'000;
    const auto run = simulate(network, days);
    const std::size_t last = run.switchings.size() - 1;
    ASSERT_TRUE(cycle.found);
    EXPECT_NEAR(cycle.period.si, (run.switchings[last].at - run.switchings[last - 2].at).si, 1e-3 * cycle.period.si);
    EXPECT_GE(run.end[1].si, cycle.lowest[1].si - 2e-3);
    EXPECT_LE(run.end[1].si, cycle.highest[1].si + 2e-3);
}

TEST(Cycling, TooWeakOrNeverNeededDoesNotCycle) {
    struct Row {
        double low, high, duty, degrees;
    };
    for (const Row& row : {Row{130, 140, 1.0, 120.0}, Row{118, 122, 1.0, 120.0}, Row{5, 15, 0.0, 20.0},
                           Row{117, 122, 1.0, 120.0}, Row{15, 30, 0.0, 20.0}}) {
        const Cycle cycle = periodic_running(first_order(), controlled({two_point(0, row.low, row.high)}))[0];
        EXPECT_TRUE(cycle.found);
        EXPECT_FALSE(cycle.cycles);
        EXPECT_EQ(cycle.duty, row.duty) << row.low;
        EXPECT_NEAR(in_celsius(cycle.lowest[0]), row.degrees, 1e-6);
        EXPECT_EQ(cycle.lowest[0], cycle.highest[0]);
        EXPECT_NEAR(cycle.mean_power.si, 100.0 * row.duty, 1e-9);
    }
}

TEST(Cycling, StuckControlNeverOpens) {
    RunSetup setup = controlled({two_point(0, 53, 57)}, 5000.0);
    setup.controls[0].stuck_on = true;
    const auto run = simulate(first_order(), setup);
    EXPECT_TRUE(run.switchings.empty());
    EXPECT_NEAR(in_celsius(run.end[0]), 120.0, 1e-3);
    EXPECT_EQ(mean_running(first_order(), setup).duty[0], 1.0);
    EXPECT_FALSE(periodic_running(first_order(), setup)[0].cycles);
}

// Duty of the average is the rise over the rise at full power: exact in a linear network.
TEST(Cycling, AverageRunning) {
    const MeanRunning mean = mean_running(first_order(), controlled({two_point(0, 53, 57)}));
    EXPECT_NEAR(mean.duty[0], 0.35, 1e-9);
    EXPECT_NEAR(in_celsius(mean.temperatures[0]), 55.0, 1e-7);
}

// Two heaters, each with its own sensor: both hold the middle of their bands (G T = P, solved by hand).
TEST(Cycling, AverageOfTwoControlsThatWarmEachOther) {
    HandNetwork network(20.0);
    network.body(100.0);
    network.body(200.0);
    network.path(0, 1, 2.0);
    network.path(0, room, 0.5);
    network.path(1, room, 0.8);
    network.heat(0, 100.0).control = 0;
    network.heat(1, 100.0).control = 1;
    RunSetup setup = controlled({two_point(0, 59, 61), two_point(1, 49, 51)});
    MeanRunning mean = mean_running(network, setup);
    EXPECT_NEAR(mean.duty[0], (2.0 * 10.0 + 0.5 * 40.0) / 100.0, 1e-6);
    EXPECT_NEAR(mean.duty[1], (-2.0 * 10.0 + 0.8 * 30.0) / 100.0, 1e-6);
    setup.controls[1] = two_point(1, 29, 31); // the other one keeps it warmer than that
    mean = mean_running(network, setup);
    EXPECT_EQ(mean.duty[1], 0.0);
    EXPECT_NEAR(in_celsius(mean.temperatures[0]), 60.0, 1e-5);
}

// Two bodies that share nothing cycle as each would alone.
TEST(Cycling, IndependentControlsCycleAsIfAlone) {
    HandNetwork network = first_order();
    network.body(300.0);
    network.path(1, room, 1.0);
    network.heat(1, 100.0).control = 1;
    const auto cycles = periodic_running(network, controlled({two_point(0, 53, 57), two_point(1, 40, 50)}));
    const TwoTimes first = first_order_times(53, 57, 0);
    const TwoTimes second = first_order_times(40, 50, 0);
    EXPECT_NEAR(cycles[0].period.si, first.on + first.off, 1e-3);
    EXPECT_NEAR(cycles[1].period.si, second.on + second.off, 1e-3);
    EXPECT_NEAR(cycles[1].duty, second.on / (second.on + second.off), 1e-5);
    EXPECT_NEAR(in_celsius(cycles[0].highest[0]), 57.0, 1e-4);
    EXPECT_NEAR(in_celsius(cycles[1].lowest[1]), 40.0, 1e-4);
    EXPECT_TRUE(cycles[0].cycles && cycles[1].cycles);
}

// Two equal halves of a symmetrical build repeat together.
TEST(Cycling, EqualControlsRepeatTogether) {
    HandNetwork network = first_order();
    network.body(300.0);
    network.path(1, room, 1.0);
    network.heat(1, 100.0).control = 1;
    network.path(0, 1, 0.05);
    const auto cycles = periodic_running(network, controlled({two_point(0, 53, 57), two_point(1, 53, 57)}));
    const TwoTimes alone = first_order_times(53, 57, 0);
    EXPECT_TRUE(cycles[0].found);
    EXPECT_NEAR(cycles[0].period.si, alone.on + alone.off, 1e-3);
    EXPECT_NEAR(cycles[1].period.si, cycles[0].period.si, 1e-3);
}

HandNetwork guarded() {
    HandNetwork network = first_order();
    network.sources[0].cutoffs = {0};
    return network;
}

TEST(Cycling, OneShotCutoffOpensOnce) {
    RunSetup setup = controlled({two_point(0, 53, 57)}, 20000.0);
    setup.controls[0].stuck_on = true;
    setup.cutoffs = {{{0, {}}, celsius(90.0), {}}};
    const auto run = simulate(guarded(), setup);
    ASSERT_EQ(run.switchings.size(), 1u);
    EXPECT_TRUE(run.switchings[0].is_cutoff);
    EXPECT_FALSE(run.switchings[0].closes);
    EXPECT_NEAR(run.switchings[0].at.si, 300.0 * std::log(100.0 / 30.0), 1e-3);
    EXPECT_NEAR(in_celsius(run.highest[0]), 90.0, 1e-6);
    EXPECT_NEAR(in_celsius(run.end[0]), 20.0, 1e-3);
    EXPECT_FALSE(run.first_off[0].has_value());
}

// A self-resetting cutoff behind a stuck switch cycles like a thermostat of its own.
TEST(Cycling, SelfResettingCutoffCyclesForEver) {
    RunSetup setup = controlled({two_point(0, 53, 57)}, 3000.0, 1e-9);
    setup.controls[0].stuck_on = true;
    setup.cutoffs = {{{0, {}}, celsius(90.0), celsius(70.0)}};
    const auto run = simulate(guarded(), setup);
    const TwoTimes expected = first_order_times(70, 90, 0);
    ASSERT_GT(run.switchings.size(), 10u);
    for (std::size_t i = 2; i < run.switchings.size(); ++i)
        EXPECT_NEAR((run.switchings[i].at - run.switchings[i - 2].at).si, expected.on + expected.off, 1e-5);
    EXPECT_TRUE(run.on_end[0]);
}

TEST(Cycling, CutoffAboveItsTemperatureAtTheStartIsOpen) {
    RunSetup setup = controlled({two_point(0, 53, 57)}, 10.0);
    setup.start = {celsius(95.0)};
    setup.start_on = {true};
    setup.cutoffs = {{{0, {}}, celsius(90.0), {}}};
    const auto run = simulate(guarded(), setup);
    ASSERT_EQ(run.switchings.size(), 2u); // the control opens, too
    EXPECT_EQ(run.switchings[0].at.si, 0.0);
    EXPECT_EQ(run.switchings[1].at.si, 0.0);
    EXPECT_EQ(run.supplied.si, 0.0);
}

TEST(Cycling, StartsAsItsSensorSays) {
    for (const auto& [degrees, on] : {std::pair{20.0, true}, {54.0, true}, {56.0, false}, {60.0, false}}) {
        RunSetup setup = controlled({two_point(0, 53, 57)}, 0.0);
        setup.start = {celsius(degrees)};
        const auto run = simulate(first_order(), setup);
        EXPECT_EQ(run.on_end[0], on) << degrees;
        EXPECT_EQ(run.first_off[0].has_value(), degrees >= 57.0) << degrees;
        EXPECT_EQ(run.ended.si, 0.0);
    }
}

// Equal thresholds without delay, overlapping thresholds of a cutoff, a limit of switchings, a band of nothing.
TEST(Cycling, NothingHangs) {
    const auto chatters = simulate(first_order(), controlled({two_point(0, 55, 55)}));
    EXPECT_LT(chatters.ended.si, 200.0);
    EXPECT_LE(chatters.switchings.size(), 2u);
    EXPECT_NEAR(in_celsius(chatters.end[0]), 55.0, 1e-6);

    RunSetup overlapping = controlled({two_point(0, 80, 90)});
    overlapping.cutoffs = {{{0, {}}, celsius(60.0), celsius(65.0)}};
    EXPECT_LT(simulate(guarded(), overlapping).ended.si, 200.0);

    RunSetup limited = controlled({two_point(0, 53, 57)});
    limited.most_switchings = 7;
    EXPECT_EQ(simulate(first_order(), limited).switchings.size(), 7u);

    RunSetup hair = controlled({two_point(0, 55, 55 + 1e-9)});
    hair.most_switchings = 2000;
    EXPECT_LE(simulate(first_order(), hair).switchings.size(), 2000u);

    const Cycle none = periodic_running(first_order(), controlled({two_point(0, 55, 55)}))[0];
    EXPECT_FALSE(none.found && none.cycles);
    EXPECT_NEAR(in_celsius(none.highest[0]), 55.0, 1e-3);
}

// Where heat has no way out there is no average.
TEST(Cycling, BodyWithoutAWayOutHasNoAverage) {
    HandNetwork network(20.0);
    network.body(100.0);
    network.heat(0, 10.0).control = 0;
    const MeanRunning mean = mean_running(network, controlled({two_point(0, 53, 57)}));
    EXPECT_TRUE(std::isinf(mean.temperatures[0].si));
    EXPECT_EQ(periodic_running(network, controlled({two_point(0, 53, 57)})).size(), 1u);
}

} // namespace
} // namespace trivet
