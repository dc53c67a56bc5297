#include "electrical/envelope.h"
#include "electrical/hand_circuit.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <string>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

// Supply, fuse, heater on a switch, converter with a fan and a second heater; all share one return wire.
HandCircuit converter_fan_two_heaters() {
    HandCircuit made;
    made.source(1, 0, {23.4, 24.6}, {0.01, 0.05});
    made.resistive(BranchKind::fuse, 1, 2, {0.005, 0.010});
    made.wire(2, 3, {0.020, 0.027});
    made.contact(3, 4, {0.0, 0.05});
    made.heater(4, 5, {9.0, 11.0});
    made.wire(3, 6, {0.010, 0.013});
    made.contact(6, 7, {0.0, 0.03});
    made.heater(7, 5, {14.0, 18.0});
    made.converter({3, 5}, {8, 5}, {{4.9, 5.1}, {0.8, 0.92}, {0.0, 0.02}});
    made.load(8, 5, LoadBehaviour::constant_current, {0.2, 0.35}, 5.0);
    made.load(8, 5, LoadBehaviour::constant_power, {0.8, 1.5}, 5.0);
    made.wire(5, 0, {0.030, 0.041}); // the shared return
    return made;
}

HandCircuit parallel_heaters() {
    HandCircuit made;
    made.source(1, 0, {11.4, 12.6});
    made.wire(1, 2, {0.01, 0.02});
    for (std::uint32_t i = 0; i < 4; ++i) {
        made.wire(2, 3 + i, {0.03 + 0.01 * i, 0.04 + 0.01 * i});
        made.heater(3 + i, 10, {3.0 + i, 4.5 + i});
    }
    made.wire(10, 0, {0.01, 0.02});
    return made;
}

HandCircuit two_supplies_over_diodes() {
    HandCircuit made;
    made.source(1, 0, {11.5, 12.5}, {0.02, 0.05});
    made.source(2, 0, {11.0, 12.8}, {0.01, 0.04});
    made.diode(1, 3, {0.6, 0.8});
    made.diode(2, 3, {0.4, 0.5});
    made.wire(3, 4, {0.05, 0.07});
    made.heater(4, 0, {5.0, 6.0});
    made.load(4, 0, LoadBehaviour::constant_current, {0.1, 0.3}, 12.0);
    return made;
}

HandCircuit constant_power_loads() {
    HandCircuit made;
    made.source(1, 0, {23.0, 25.0}, {0.05, 0.1});
    made.wire(1, 2, {0.1, 0.2});
    made.load(2, 0, LoadBehaviour::constant_power, {30.0, 60.0}, 24.0);
    made.wire(2, 3, {0.1, 0.2});
    made.contact(3, 4, {0.0, 0.05});
    made.load(4, 5, LoadBehaviour::constant_power, {20.0, 40.0}, 24.0);
    made.wire(5, 0, {0.05, 0.1});
    return made;
}

HandCircuit transistor_and_two_converters() {
    HandCircuit made;
    made.source(1, 0, {23.5, 24.5});
    made.wire(1, 2, {0.02, 0.03});
    made.heater(2, 3, {8.0, 10.0});
    made.resistive(BranchKind::transistor, 3, 4, {0.01, 0.03});
    // A solid-state relay's fixed drop is its second parameter.
    made.add_parameter("on voltage", {0.8, 1.4});
    made.wire(4, 0, {0.02, 0.03});
    made.converter({2, 4}, {5, 4}, {{11.8, 12.2}, {0.85, 0.95}, {0.0, 0.02}, Topology::step_down, 14.0, 1.0});
    made.converter({5, 4}, {6, 4}, {{3.2, 3.4}, {1.0, 1.0}, {0.001, 0.005}, Topology::linear, 4.5, 1.0});
    made.load(6, 4, LoadBehaviour::constant_current, {0.1, 0.4}, 3.3);
    made.load(5, 4, LoadBehaviour::resistance, {20.0, 30.0}, 12.0);
    return made;
}

constexpr std::size_t samples = 2000;
constexpr double relative = 1e-9;
constexpr double rounding = 1e-12; // V or A

void expect_inside(const Span& span, double value, const std::string& what) {
    const double slack = relative * std::abs(value) + rounding;
    EXPECT_LE(value, span.highest.value + slack) << what;
    EXPECT_GE(value, span.lowest.value - slack) << what;
}

ParameterValues values_at(const CornerChoice& corner, const Circuit& circuit) {
    ParameterValues values = middle_values(circuit);
    for (std::size_t i = 0; i < corner.parameters.size(); ++i) {
        const Parameter& parameter = circuit.parameters[corner.parameters[i]];
        values[corner.parameters[i]] = corner.high[i] ? parameter.hi : parameter.lo;
    }
    return values;
}

bool is_conductor(BranchKind kind) {
    return kind == BranchKind::wire || kind == BranchKind::fuse || kind == BranchKind::contact;
}

// Every extreme is attained at the state and corner it names; only the voltage over a conductor may be a bound.
void expect_attained(const Envelope& envelope, const StateSet& states, const Circuit& circuit) {
    for (std::size_t b = 0; b < circuit.branches.size(); ++b) {
        const Branch& branch = circuit.branches[b];
        for (const Span* span : {&envelope.current[b], &envelope.voltage[b]}) {
            if (span == &envelope.voltage[b] && is_conductor(branch.kind)) continue;
            for (const Extreme& extreme : {span->lowest, span->highest}) {
                const ParameterValues values = values_at(envelope.corners[extreme.corner], circuit);
                const auto point = solve_dc(circuit, {0}, states.states[extreme.state], values);
                ASSERT_TRUE(point.has_value());
                const double value = span == &envelope.current[b] ? point->branch_current[b]
                                                                  : point->node_voltage[branch.from.value] -
                                                                        point->node_voltage[branch.to.value];
                EXPECT_NEAR(value, extreme.value, relative * std::abs(value) + rounding) << "branch " << b;
            }
        }
    }
}

void expect_samples_inside(HandCircuit made) {
    const Circuit& circuit = made.done();
    const StateSet states = made.all_states();
    const Envelope envelope = operating_envelope(circuit, states, {});
    expect_attained(envelope, states, circuit);
    EXPECT_LT(envelope.worst_kirchhoff_residual, 1e-9);
    EXPECT_TRUE(envelope.collapses.empty());
    EXPECT_FALSE(envelope.is_bound);
    std::mt19937 random(20240501);
    for (std::size_t i = 0; i < samples; ++i) {
        ParameterValues values;
        for (const Parameter& parameter : circuit.parameters)
            values.push_back(std::uniform_real_distribution<double>(0.0, 1.0)(random) * (parameter.hi - parameter.lo) +
                             parameter.lo);
        const State& state = states.states[i % states.states.size()];
        const auto point = solve_dc(circuit, {0}, state, values);
        ASSERT_TRUE(point.has_value());
        ASSERT_LT(point->kirchhoff_residual, 1e-9);
        for (std::size_t b = 0; b < circuit.branches.size(); ++b) {
            const Branch& branch = circuit.branches[b];
            const std::string what = "branch " + std::to_string(b) + ", sample " + std::to_string(i);
            expect_inside(envelope.current[b], point->branch_current[b], what + ", current");
            const auto volts = [&](NodeId from, NodeId to) {
                return point->node_voltage[from.value] - point->node_voltage[to.value];
            };
            expect_inside(envelope.voltage[b], volts(branch.from, branch.to), what + ", voltage");
            if (branch.kind != BranchKind::converter) continue;
            expect_inside(envelope.output_current[b], point->output_current[b], what + ", output current");
            expect_inside(envelope.output_voltage[b], volts(branch.output_from, branch.output_to),
                          what + ", output voltage");
        }
        if (::testing::Test::HasFailure()) return;
    }
}

// No outside source: any sample is a witness against corners that are wrong.
TEST(EnvelopeSamples, ConverterFanAndTwoHeatersWithASharedReturn) {
    expect_samples_inside(converter_fan_two_heaters());
}
TEST(EnvelopeSamples, ParallelHeaters) { expect_samples_inside(parallel_heaters()); }
TEST(EnvelopeSamples, TwoSuppliesOverDiodes) { expect_samples_inside(two_supplies_over_diodes()); }
TEST(EnvelopeSamples, ConstantPowerLoads) { expect_samples_inside(constant_power_loads()); }
TEST(EnvelopeSamples, TransistorAndTwoConverters) { expect_samples_inside(transistor_and_two_converters()); }

TEST(EnvelopeSamples, ConductorVoltagesAreBoundedWithinAFewPercentOfTheHighestOfAllCorners) {
    HandCircuit made = constant_power_loads();
    const Circuit& circuit = made.done();
    const StateSet states = made.all_states();
    const Envelope envelope = operating_envelope(circuit, states, {});
    std::vector<double> highest(circuit.branches.size(), 0.0);
    for (unsigned corner = 0; corner < (1U << circuit.parameters.size()); ++corner) {
        ParameterValues values;
        for (std::size_t i = 0; i < circuit.parameters.size(); ++i)
            values.push_back((corner >> i & 1U) != 0 ? circuit.parameters[i].hi : circuit.parameters[i].lo);
        const auto point = solve_dc(circuit, {0}, states.states.back(), values);
        ASSERT_TRUE(point.has_value());
        for (std::size_t b = 0; b < highest.size(); ++b)
            highest[b] = std::max(highest[b], point->node_voltage[circuit.branches[b].from.value] -
                                                  point->node_voltage[circuit.branches[b].to.value]);
    }
    for (std::size_t b = 0; b < highest.size(); ++b) {
        if (circuit.branches[b].kind != BranchKind::wire) continue;
        EXPECT_GE(envelope.voltage[b].highest.value, highest[b] * (1.0 - relative)) << "branch " << b;
        EXPECT_LE(envelope.voltage[b].highest.value, highest[b] * 1.03) << "branch " << b;
    }
}

} // namespace
} // namespace trivet
