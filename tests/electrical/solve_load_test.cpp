#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

constexpr auto power = LoadBehaviour::constant_power;
constexpr auto current = LoadBehaviour::constant_current;

OperatingPoint solved(HandCircuit& made, const State& state = {}, Moment moment = Moment::running) {
    const Circuit& circuit = made.done();
    const auto point = solve_dc(circuit, {0}, state, middle_values(circuit), moment);
    EXPECT_TRUE(point.has_value());
    if (!point) return {};
    EXPECT_LT(point->kirchhoff_residual, 1e-9);
    return *point;
}

HandCircuit power_behind(double ohms, double watts) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.wire(1, 2, exactly(ohms));
    made.load(2, 0, power, exactly(watts), 24.0);
    return made;
}

// (24 + sqrt(24² - 4 * 0.5 * 60)) / 2, the quadratic of a constant-power load behind a resistance.
TEST(SolveLoad, ConstantPowerBehindAResistanceFollowsTheQuadratic) {
    HandCircuit made = power_behind(0.5, 60.0);
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.node_voltage[2], 0.5 * (24.0 + std::sqrt(576.0 - 120.0)), 1e-4);
    EXPECT_NEAR(point.node_voltage[2], 22.677, 5e-4);
}

// V²/4R: a source of 24 V behind 0.5 ohm delivers at most 288 W (maximum power transfer, Hambley chapter 2).
TEST(SolveLoad, BeyondTheMaximumPowerThereIsNoOperatingPoint) {
    for (const double watts : {200.0, 280.0, 287.0}) {
        HandCircuit made = power_behind(0.5, watts);
        const OperatingPoint point = solved(made);
        EXPECT_NEAR(point.node_voltage[2] * point.branch_current[2], watts, 1e-6 * watts);
        EXPECT_GT(point.node_voltage[2], 12.0) << "the stable of the two solutions";
    }
    for (const double watts : {289.0, 300.0, 1000.0}) {
        HandCircuit made = power_behind(0.5, watts);
        const Circuit& circuit = made.done();
        const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
        ASSERT_FALSE(point.has_value()) << watts;
        EXPECT_EQ(point.error().branch.value, 2U);
        EXPECT_NEAR(point.error().demanded.si, watts, 1e-9);
        EXPECT_NEAR(point.error().available.si, 288.0, 1e-2);
        EXPECT_NEAR(point.error().source_voltage.si, 24.0, 1e-6);
        EXPECT_NEAR(point.error().line_resistance.si, 0.5, 1e-5);
    }
}

// Two loads of 200 W each would do alone, together they do not: 288 W is the limit for both.
TEST(SolveLoad, LoadsThatCollapseTogetherAreFound) {
    HandCircuit made = power_behind(0.5, 200.0);
    made.load(2, 0, power, exactly(200.0), 24.0);
    const Circuit& circuit = made.done();
    EXPECT_FALSE(solve_dc(circuit, {0}, {}, middle_values(circuit)).has_value());
}

// A supply too low for a load is no collapse: more current would not help.
TEST(SolveLoad, TooLowASupplyIsNoCollapse) {
    HandCircuit made;
    made.source(1, 0, exactly(5.0));
    made.wire(1, 2, exactly(0.1));
    made.load(2, 0, power, exactly(10.0), 24.0);
    const OperatingPoint point = solved(made);
    EXPECT_GT(point.node_voltage[2], 4.5);
}

TEST(SolveLoad, ConstantCurrentDrawsItsCurrent) {
    HandCircuit made;
    made.source(1, 0, exactly(12.0));
    made.wire(1, 2, exactly(0.5));
    made.load(2, 0, current, exactly(2.0), 12.0);
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[2], 2.0, 1e-6);
    EXPECT_NEAR(point.node_voltage[2], 11.0, 1e-5);
}

// Common practice, no source: a motor's start current and a cold heater as multiples of the running current.
TEST(SolveLoad, StartingMultipliesWhatALoadDraws) {
    HandCircuit made;
    made.source(1, 0, exactly(12.0));
    const BranchId fan = made.load(1, 0, current, exactly(0.2), 12.0);
    made.circuit.branches[fan.value].start_factor = 3.0;
    const BranchId heater = made.heater(1, 0, exactly(6.0), 2.0);
    EXPECT_NEAR(solved(made).branch_current[fan.value], 0.2, 1e-7);
    const OperatingPoint start = solved(made, {}, Moment::starting);
    EXPECT_NEAR(start.branch_current[fan.value], 0.6, 1e-7);
    EXPECT_NEAR(start.branch_current[heater.value], 4.0, 1e-4);
}

// Forward voltage at rated current (1 A): a 5 V source, 4.3 ohm and a 0.7 V diode carry 1 A; the other way round
// nothing.
TEST(SolveLoad, DiodesConductOneWay) {
    HandCircuit made;
    made.source(1, 0, exactly(5.0));
    made.resistor(1, 2, exactly(4.3));
    const BranchId forward = made.diode(2, 0, exactly(0.7));
    made.resistor(1, 3, exactly(4.3));
    const BranchId reverse = made.diode(0, 3, exactly(0.7));
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[forward.value], 1.0, 1e-5);
    EXPECT_LT(std::abs(point.branch_current[reverse.value]), 1e-5);
}

// A bridge of four diodes feeds the load the right way round whichever way the source is connected.
TEST(SolveLoad, ABridgeRectifierTurnsEitherPolarityRight) {
    for (const bool turned : {false, true}) {
        HandCircuit made;
        made.source(turned ? 2 : 1, turned ? 1 : 2, exactly(24.0));
        made.diode(1, 3, exactly(0.7));
        made.diode(2, 3, exactly(0.7));
        made.diode(4, 1, exactly(0.7));
        made.diode(4, 2, exactly(0.7));
        const BranchId load = made.load(3, 4, power, exactly(20.0), 24.0);
        const OperatingPoint point = solved(made);
        EXPECT_NEAR(point.node_voltage[3] - point.node_voltage[4], 22.6, 0.1);
        EXPECT_NEAR(point.branch_current[load.value], 20.0 / 22.6, 0.01);
    }
}

// Common practice, no source: of two solid-state relays in parallel the one with the smaller drop carries nearly all.
// 24 V - 1.0 V over 10 ohm; the steep start of the other's characteristic must not keep Newton going in circles.
TEST(SolveLoad, FixedDropsInParallelSettleOnTheSmallerOne) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.heater(1, 2, exactly(10.0));
    std::vector<BranchId> relays;
    for (const double volts : {1.4, 1.0, 1.2}) {
        relays.push_back(made.resistive(BranchKind::transistor, 2, 0, exactly(0.001)));
        made.add_parameter("on voltage", exactly(volts));
    }
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.node_voltage[2], 1.0 + 0.0023, 1e-3);
    EXPECT_NEAR(point.branch_current[relays[1].value], 2.3, 5e-3);
    EXPECT_NEAR(point.branch_current[relays[0].value], 1e-3, 1e-3);
}

} // namespace
} // namespace trivet
