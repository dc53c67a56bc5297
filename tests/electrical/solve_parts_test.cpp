#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

constexpr auto power = LoadBehaviour::constant_power;
constexpr auto current = LoadBehaviour::constant_current;

OperatingPoint solved(HandCircuit& made, const State& state = {}) {
    const Circuit& circuit = made.done();
    const auto point = solve_dc(circuit, {0}, state, middle_values(circuit));
    EXPECT_TRUE(point.has_value());
    if (!point) return {};
    EXPECT_LT(point->kirchhoff_residual, 1e-9);
    return *point;
}

TEST(SolveParts, EverythingOffCarriesNothing) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.contact(1, 2);
    made.heater(2, 3, exactly(10.0));
    made.load(2, 3, power, exactly(5.0), 24.0);
    made.load(2, 3, power, exactly(3.0), 24.0);
    made.load(2, 3, current, exactly(0.1), 24.0);
    made.wire(3, 0, exactly(0.01));
    const OperatingPoint point = solved(made);
    for (const double amperes : point.branch_current) EXPECT_EQ(amperes, 0.0);
    EXPECT_NEAR(point.node_voltage[2], 0.0, 1e-12);
}

TEST(SolveParts, PartsWithoutAnySourceAreAtZero) {
    HandCircuit made;
    made.source(1, 0, exactly(12.0));
    made.resistor(1, 0, exactly(12.0));
    made.load(2, 3, power, exactly(5.0), 24.0);
    made.resistor(2, 3, exactly(10.0));
    made.contact(1, 2);
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[1], 1.0, 1e-6);
    EXPECT_EQ(point.node_voltage[2], 0.0);
    EXPECT_EQ(point.branch_current[2], 0.0);
}

// What hangs on one wire takes that wire's potential, through loads too.
TEST(SolveParts, DanglingPartsTakeThePotentialOfTheirOneConnection) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.wire(1, 2, exactly(0.1));
    made.heater(2, 3, exactly(10.0));
    made.load(3, 4, power, exactly(5.0), 24.0);
    made.load(4, 5, current, exactly(1.0), 24.0);
    made.diode(5, 6, exactly(0.7));
    made.contact(6, 0);
    const OperatingPoint point = solved(made);
    for (std::uint32_t node = 2; node < 7; ++node) EXPECT_NEAR(point.node_voltage[node], 24.0, 1e-9) << node;
    for (const double amperes : point.branch_current) EXPECT_EQ(amperes, 0.0);
}

// Two supplies joined by a single wire: no loop, no current, no common ground.
TEST(SolveParts, TwoSuppliesJoinedByOneLoadCarryNothing) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.source(3, 2, exactly(12.0));
    made.load(1, 3, power, exactly(5.0), 24.0);
    made.resistor(3, 2, exactly(12.0));
    const OperatingPoint point = solved(made);
    EXPECT_EQ(point.branch_current[2], 0.0);
    EXPECT_NEAR(point.branch_current[3], 1.0, 1e-6);
    EXPECT_NEAR(point.node_voltage[3], 24.0, 1e-9);
}

TEST(SolveParts, WiresWithoutResistanceInParallelShareTheCurrent) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.wire(1, 2);
    made.wire(1, 2);
    made.resistor(2, 0, exactly(12.0));
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[1], 1.0, 1e-5);
    EXPECT_NEAR(point.branch_current[2], 1.0, 1e-5);
}

TEST(SolveParts, ABranchBothEndsOfWhichAreOneNodeIsLeftAlone) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.wire(1, 1, exactly(0.1));
    made.load(0, 0, power, exactly(5.0), 24.0);
    made.resistor(1, 0, exactly(12.0));
    const OperatingPoint point = solved(made);
    EXPECT_EQ(point.branch_current[1], 0.0);
    EXPECT_EQ(point.branch_current[2], 0.0);
    EXPECT_NEAR(point.branch_current[3], 2.0, 1e-6);
}

// Small currents beside large ones: a 100 kohm sensor divider next to a heater (Ohm's law).
TEST(SolveParts, SensorCurrentsBesideAHeaterKeepTheirPrecision) {
    HandCircuit made;
    made.source(1, 0, exactly(12.0));
    made.wire(1, 2, exactly(0.01));
    made.heater(2, 3, exactly(2.0));
    made.wire(3, 0, exactly(0.01));
    made.wire(1, 4, exactly(0.05));
    const BranchId pull_up = made.resistor(4, 5, exactly(20000.0));
    made.wire(5, 6, exactly(0.05));
    made.resistive(BranchKind::thermistor, 6, 0, exactly(100000.0));
    const OperatingPoint point = solved(made);
    EXPECT_NEAR(point.branch_current[pull_up.value], 1e-4, 2e-10);
    EXPECT_NEAR(point.branch_current[2], 12.0 / 2.02, 1e-5);
}

TEST(SolveParts, OtherIslandsStayUntouched) {
    HandCircuit made;
    made.source(1, 0, exactly(12.0));
    made.resistor(1, 0, exactly(12.0));
    made.source(3, 2, exactly(24.0));
    made.resistor(3, 2, exactly(12.0));
    made.done();
    made.circuit.island_count = 2;
    made.circuit.branches_of_island = {{{0}, {1}}, {{2}, {3}}};
    made.circuit.island_of_node = {{0}, {0}, {1}, {1}};
    const auto point = solve_dc(made.circuit, {1}, {}, middle_values(made.circuit));
    ASSERT_TRUE(point.has_value());
    EXPECT_EQ(point->branch_current[1], 0.0);
    EXPECT_NEAR(point->branch_current[3], 2.0, 1e-6);
}

} // namespace
} // namespace trivet
