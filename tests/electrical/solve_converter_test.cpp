#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

constexpr auto power = LoadBehaviour::constant_power;
constexpr auto current = LoadBehaviour::constant_current;

tl::expected<OperatingPoint, NoOperatingPoint> solve(HandCircuit& made, const State& state = {}) {
    const Circuit& circuit = made.done();
    return solve_dc(circuit, {0}, state, middle_values(circuit));
}

OperatingPoint solved(HandCircuit& made, const State& state = {}) {
    const auto point = solve(made, state);
    EXPECT_TRUE(point.has_value());
    if (!point) return {};
    EXPECT_LT(point->kirchhoff_residual, 1e-9);
    return *point;
}

struct Row {
    const char* name;
    Topology topology;
    double input, output, efficiency, quiescent, load, input_current;
};

// Input current = output power / (efficiency * input voltage) + quiescent current; linear: output current + quiescent.
TEST(SolveConverter, InputCurrentFollowsFromTheOutputPower) {
    const Row rows[] = {
        {"5 V 3 A from 24 V at 85 %: 15/(0.85*24) = 0.735 A", Topology::step_down, 24.0, 5.0, 0.85, 0.0, 3.0, 0.7353},
        {"step-up 12 V to 24 V, 1 A at 90 %: 24/(0.9*12)", Topology::step_up, 12.0, 24.0, 0.9, 0.0, 1.0, 2.2222},
        {"linear 5 V 0.1 A from 12 V with 5 mA", Topology::linear, 12.0, 5.0, 1.0, 0.005, 0.1, 0.105},
        {"with 20 mA quiescent: 0.735 + 0.02", Topology::step_down, 24.0, 5.0, 0.85, 0.02, 3.0, 0.7553},
    };
    for (const Row& row : rows) {
        SCOPED_TRACE(row.name);
        HandCircuit made;
        made.source(1, 0, exactly(row.input));
        const BranchId converter = made.converter(
            {1, 0}, {2, 0}, {exactly(row.output), exactly(row.efficiency), exactly(row.quiescent), row.topology});
        made.load(2, 0, current, exactly(row.load), row.output);
        const OperatingPoint point = solved(made);
        EXPECT_NEAR(point.branch_current[converter.value], row.input_current, 5e-4);
        EXPECT_NEAR(point.output_current[converter.value], row.load, 1e-6);
        EXPECT_NEAR(point.node_voltage[2], row.output, 1e-5);
    }
}

TEST(SolveConverter, WithoutHeadroomTheOutputFollowsTheInput) {
    HandCircuit made;
    made.source(1, 0, exactly(6.0));
    made.converter({1, 0}, {2, 0}, {exactly(5.0), exactly(0.9), exactly(0.0), Topology::step_down, 4.5, 1.5});
    made.load(2, 0, LoadBehaviour::resistance, exactly(10.0), 5.0);
    EXPECT_NEAR(solved(made).node_voltage[2], 4.5, 1e-5);
}

TEST(SolveConverter, BelowItsInputRangeTheOutputFallsAway) {
    HandCircuit made;
    made.source(1, 0, exactly(3.5));
    made.converter({1, 0}, {2, 0}, {exactly(12.0), exactly(0.9), exactly(0.0), Topology::step_up, 7.0});
    made.load(2, 0, LoadBehaviour::resistance, exactly(10.0), 12.0);
    EXPECT_NEAR(solved(made).node_voltage[2], 6.0, 1e-5);
}

// Its own loop on the output side: no current between the two sides, the output's minus is its reference.
TEST(SolveConverter, AnIsolatedConverterHasItsOwnReference) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    const BranchId converter =
        made.converter({1, 0}, {2, 3}, {exactly(12.0), exactly(0.8), exactly(0.0), Topology::isolated, 18.0});
    made.wire(2, 4, exactly(0.1));
    made.load(4, 3, current, exactly(1.0), 12.0);
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.node_voltage[3], 0.0, 1e-12);
    EXPECT_NEAR(point.node_voltage[4], 11.9, 1e-5);
    EXPECT_NEAR(point.branch_current[converter.value], 12.0 / (0.8 * 24.0), 1e-6);
}

// 5 V 20 A over 5 ohm of line from 24 V: 24²/(4*5) = 28.8 W available, 100 W wanted.
TEST(SolveConverter, AConverterBehindTooLongALineCollapses) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.wire(1, 2, exactly(5.0));
    const BranchId converter = made.converter({2, 0}, {3, 0}, {exactly(5.0)});
    made.load(3, 0, current, exactly(20.0), 5.0);
    const auto point = solve(made);
    ASSERT_FALSE(point.has_value());
    EXPECT_EQ(point.error().branch.value, converter.value);
    EXPECT_NEAR(point.error().demanded.si, 100.0, 1e-2);
    EXPECT_NEAR(point.error().available.si, 28.8, 1e-3);
}

TEST(SolveConverter, WithoutInputThereIsNoOutput) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.contact(1, 2);
    made.wire(2, 3, exactly(0.01));
    made.converter({3, 0}, {4, 0}, {exactly(5.0), exactly(0.9), exactly(0.01)});
    made.wire(4, 5, exactly(0.1));
    made.load(5, 0, power, exactly(2.0), 5.0);
    made.load(5, 0, power, exactly(1.0), 5.0);
    const OperatingPoint off = solved(made);
    EXPECT_NEAR(off.node_voltage[5], 0.0, 1e-9);
    const OperatingPoint on = solved(made, State{{0}, {DriverId{0}}});
    EXPECT_NEAR(on.node_voltage[5] * (on.branch_current[5] + on.branch_current[6]), 3.0, 1e-6);
}

// 5 V from 12 V from 24 V: each stage's input power is the next one's load.
TEST(SolveConverter, ConvertersInARow) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    const BranchId first = made.converter({1, 0}, {2, 0}, {exactly(12.0), exactly(0.9)});
    const BranchId second = made.converter({2, 0}, {3, 0}, {exactly(5.0), exactly(0.8)});
    made.load(3, 0, current, exactly(2.0), 5.0);
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[second.value], 10.0 / 0.8 / 12.0, 1e-5);
    EXPECT_NEAR(point.branch_current[first.value], 10.0 / 0.8 / 0.9 / 24.0, 1e-5);
}

} // namespace
} // namespace trivet
