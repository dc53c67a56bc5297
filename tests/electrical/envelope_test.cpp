#include "electrical/envelope.h"

#include "electrical/hand_circuit.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

constexpr auto power = LoadBehaviour::constant_power;
constexpr auto current = LoadBehaviour::constant_current;

HandCircuit switched_heater() {
    HandCircuit made;
    made.source(1, 0, {23.0, 25.0});
    made.wire(1, 2, {0.1, 0.2});
    made.contact(2, 3, {0.0, 0.1});
    made.heater(3, 0, {9.0, 11.0}, 1.5);
    return made;
}

// Ohm's law at the corner that suits each quantity.
TEST(Envelope, ExtremesOfASwitchedHeater) {
    HandCircuit made = switched_heater();
    const Envelope envelope = operating_envelope(made.done(), made.all_states(), {});
    EXPECT_NEAR(envelope.current[3].highest.value, 25.0 / 9.1, 1e-5);
    EXPECT_EQ(envelope.current[3].lowest.value, 0.0);
    EXPECT_NEAR(envelope.voltage[3].highest.value, 25.0 * 11.0 / 11.1, 1e-5);
    EXPECT_NEAR(envelope.voltage_on[3].lowest.value, 23.0 * 9.0 / 9.3, 1e-5);
    EXPECT_NEAR(envelope.voltage_open[2].highest.value, 25.0, 1e-9);
    EXPECT_NEAR(envelope.voltage_open[2].lowest.value, 23.0, 1e-9);
    EXPECT_NEAR(envelope.start_current[3].highest.value, 25.0 / 6.1, 1e-5);
    EXPECT_TRUE(std::isnan(envelope.voltage_open[3].highest.value)) << "a heater is no switch";
    EXPECT_TRUE(std::isnan(envelope.output_current[3].highest.value)) << "a heater is no converter";
    EXPECT_LT(envelope.worst_kirchhoff_residual, 1e-9);
    EXPECT_FALSE(envelope.is_bound);
}

TEST(Envelope, TheLabelNamesStateAndWhatMattersMost) {
    HandCircuit made = switched_heater();
    made.done();
    made.circuit.parameter_names = {"supply voltage", "supply resistance", "W1 resistance", "relay resistance",
                                    "plate resistance"};
    const StateSet states = made.all_states();
    const Envelope envelope = operating_envelope(made.circuit, states, {});
    const std::string on = to_text(states.states[1], made.circuit);
    EXPECT_EQ(describe(envelope.current[3].highest, envelope, states, made.circuit),
              on + "; plate resistance low, supply voltage high, W1 resistance low");
    EXPECT_EQ(describe(envelope.voltage_open[2].highest, envelope, states, made.circuit),
              to_text(states.states[0], made.circuit) + "; supply voltage high");
}

TEST(Envelope, WithoutTolerancesTheLabelIsTheStateAlone) {
    HandCircuit made;
    made.source(1, 0, exactly(24.0));
    made.heater(1, 0, exactly(12.0));
    const Circuit& circuit = made.done();
    const StateSet states = made.all_states();
    const Envelope envelope = operating_envelope(circuit, states, {});
    EXPECT_NEAR(envelope.current[1].highest.value, 2.0, 1e-6);
    EXPECT_EQ(describe(envelope.current[1].highest, envelope, states, circuit), to_text(states.states[0], circuit));
}

// The heater's current over a shared return lifts the sensor's ground: U = I R.
TEST(Envelope, ProbesCountOnlyStatesInWhichTheirBranchIsOn) {
    HandCircuit made;
    made.source(1, 0, {23.0, 25.0});
    made.contact(1, 2);
    const BranchId heater = made.heater(2, 3, exactly(10.0));
    made.wire(3, 0, {0.1, 0.2});
    made.done();
    const ProbeOf shift{{{{NodeId{3}, 1.0}, {NodeId{0}, -1.0}}}, heater, {0}};
    const ProbeOf always{{{{NodeId{3}, 1.0}, {NodeId{0}, -1.0}}}, {}, {0}};
    const std::vector<ProbeOf> probes{shift, always};
    const Envelope envelope = operating_envelope(made.circuit, made.all_states(), probes);
    EXPECT_NEAR(envelope.probe[0].highest.value, 25.0 * 0.2 / 10.2, 1e-5);
    EXPECT_NEAR(envelope.probe[0].lowest.value, 23.0 * 0.1 / 10.1, 1e-5);
    EXPECT_NEAR(envelope.probe[1].lowest.value, 0.0, 1e-9);
}

// 24²/(4*0.5) = 288 W at the middle; at 23 V and 0.6 ohm 220 W: only some corners collapse.
TEST(Envelope, CollapsesAreRecordedOncePerBranchWithTheWorstNumbers) {
    HandCircuit made;
    made.source(1, 0, {23.0, 25.0});
    made.wire(1, 2, {0.4, 0.6});
    const BranchId load = made.load(2, 0, power, exactly(250.0), 24.0);
    const Envelope envelope = operating_envelope(made.done(), made.all_states(), {});
    ASSERT_EQ(envelope.collapses.size(), 1U);
    EXPECT_EQ(envelope.collapses[0].why.branch, load);
    EXPECT_NEAR(envelope.collapses[0].why.available.si, 23.0 * 23.0 / 2.4, 1e-2);
    EXPECT_NEAR(envelope.current[load.value].lowest.value, 250.0 / (12.5 + std::sqrt(156.25 - 100.0)), 1e-4);
}

TEST(Envelope, ACollapseInTheMiddleLeavesTheCornersThatWork) {
    HandCircuit made;
    made.source(1, 0, {20.0, 28.0});
    made.wire(1, 2, exactly(0.5));
    made.load(2, 0, power, {100.0, 500.0}, 24.0);
    const Envelope envelope = operating_envelope(made.done(), made.all_states(), {});
    ASSERT_EQ(envelope.collapses.size(), 1U);
    EXPECT_FALSE(std::isnan(envelope.current[2].highest.value));
}

TEST(Envelope, ConverterOutputsAreTracked) {
    HandCircuit made;
    made.source(1, 0, {23.0, 25.0});
    const BranchId converter = made.converter({1, 0}, {2, 0}, {{4.9, 5.1}, {0.8, 0.9}, {0.0, 0.02}});
    made.load(2, 0, current, {1.0, 2.0}, 5.0);
    const Envelope envelope = operating_envelope(made.done(), made.all_states(), {});
    EXPECT_NEAR(envelope.output_current[converter.value].highest.value, 2.0, 1e-6);
    EXPECT_NEAR(envelope.output_voltage[converter.value].lowest.value, 4.9, 1e-5);
    EXPECT_NEAR(envelope.output_voltage[converter.value].highest.value, 5.1, 1e-5);
    EXPECT_NEAR(envelope.current[converter.value].highest.value, 5.1 * 2.0 / (0.8 * 23.0) + 0.02, 1e-5);
    EXPECT_NEAR(envelope.current[converter.value].lowest.value, 4.9 / (0.9 * 25.0), 1e-5);
}

// Sixteen grouped corners bound what the single ones find.
TEST(Envelope, LargeIslandsMoveTheirTolerancesInGroups) {
    HandCircuit made = switched_heater();
    const Circuit& circuit = made.done();
    const StateSet states = made.all_states();
    const Envelope grouped = operating_envelope(circuit, states, {}, 2);
    const Envelope single = operating_envelope(circuit, states, {});
    EXPECT_TRUE(grouped.is_bound);
    EXPECT_NEAR(grouped.current[3].highest.value, single.current[3].highest.value, 1e-9);
    EXPECT_NEAR(grouped.voltage_on[3].lowest.value, single.voltage_on[3].lowest.value, 1e-9);
}

// Islands of 21 branches with a switch each, so 2 states: common practice, no source for the sizes.
TEST(Envelope, TwoThousandIslandsTakeBoundedTime) {
    constexpr std::uint32_t islands = 2000;
    constexpr std::uint32_t nodes = 20;
    HandCircuit made;
    for (std::uint32_t i = 0; i < islands; ++i) {
        const std::uint32_t at = i * nodes;
        made.source(at + 1, at, {23.5, 24.5});
        for (std::uint32_t k = 1; k < 9; ++k) made.wire(at + k, at + k + 1, {0.02, 0.026});
        made.contact(at + 9, at + 10, {0.0, 0.05});
        made.heater(at + 10, at + 11, {9.0, 11.0});
        made.wire(at + 11, at, {0.02, 0.026});
        for (std::uint32_t k = 12; k < 18; ++k) made.wire(k == 12 ? at + 4 : at + k, at + k + 1, {0.02, 0.026});
        made.converter({at + 18, at + 11}, {at + 19, at + 11}, {{4.9, 5.1}, {0.8, 0.9}, {0.0, 0.02}});
        made.load(at + 19, at + 11, current, {0.2, 0.4}, 5.0);
    }
    made.done();
    Circuit& circuit = made.circuit;
    const auto per_island = static_cast<std::uint32_t>(circuit.branches.size() / islands);
    circuit.island_count = islands;
    circuit.branches_of_island.assign(islands, {});
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i)
        circuit.branches_of_island[i / per_island].push_back({i});
    for (std::uint32_t i = 0; i < circuit.node_count; ++i) circuit.island_of_node[i] = {i / nodes};
    StateSet states;
    states.of_island.resize(islands);
    for (std::uint32_t i = 0; i < islands; ++i) {
        states.of_island[i] = {2 * i, 2 * i + 1};
        states.states.push_back({{i}, {}});
        states.states.push_back({{i}, {DriverId{i}}});
    }
    const auto start = std::chrono::steady_clock::now();
    const Envelope envelope = operating_envelope(circuit, states, {});
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    RecordProperty("milliseconds", static_cast<int>(took.count()));
    EXPECT_LT(took.count(), 60'000.0);
    EXPECT_LT(envelope.worst_kirchhoff_residual, 1e-9);
    for (std::uint32_t i = 1; i < islands; ++i)
        ASSERT_EQ(envelope.current[i * per_island].highest.value, envelope.current[0].highest.value);
    EXPECT_LT(envelope.solutions, islands * 60U);
}

} // namespace
} // namespace trivet
