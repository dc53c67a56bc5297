#include "circuit/state.h"
#include "support/circuit_of.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet {
namespace {

// A supply with switches "s1" ... "sN" in parallel, each with a heater.
DesignBuilder with_switches(std::size_t count) {
    DesignBuilder build;
    build.supply("supply", volts(12.0));
    for (std::size_t i = 1; i <= count; ++i) {
        const std::string number = std::to_string(i);
        build.hand_switch("s" + number);
        build.heater("h" + number, ohms(6.0));
        build.wires({"supply.+ -> s" + number + ".in", "s" + number + ".out -> h" + number + ".a",
                     "h" + number + ".b -> supply.-"});
    }
    return build;
}

// Each state as a row of 0 and 1 over the drivers.
std::vector<std::string> rows(const StateSet& set, const Circuit& circuit) {
    std::vector<std::string> result;
    for (const State& state : set.states) {
        std::string row(circuit.drivers.size(), '0');
        for (const DriverId on : state.on) row[on.value] = '1';
        result.push_back(row);
    }
    std::ranges::sort(result);
    return result;
}

TEST(ReachableStates, AreAllCombinationsOfFewDrivers) {
    for (std::size_t drivers = 0; drivers <= 3; ++drivers) {
        const DesignBuilder build = with_switches(drivers);
        const Circuit circuit = circuit_of(build);
        const StateSet set = reachable_states(circuit, build.design());
        ASSERT_EQ(set.states.size(), std::size_t{1} << drivers);
        EXPECT_FALSE(set.is_bound);
        EXPECT_TRUE(set.assumptions.empty());
        EXPECT_TRUE(set.states.front().on.empty());
        EXPECT_EQ(set.states.back().on.size(), drivers);
        const auto different = rows(set, circuit);
        EXPECT_EQ(std::ranges::adjacent_find(different), different.end());
    }
}

TEST(ReachableStates, OfManyDriversAreABound) {
    const DesignBuilder build = with_switches(6);
    const Circuit circuit = circuit_of(build);
    const StateSet set = reachable_states(circuit, build.design());
    EXPECT_TRUE(set.is_bound);
    const std::vector<std::string> expected{"000000", "000001", "000010", "000100", "001000", "010000", "011111",
                                            "100000", "101111", "110111", "111011", "111101", "111110", "111111"};
    EXPECT_EQ(rows(set, circuit), expected);
    EXPECT_EQ(reachable_states(circuit, build.design(), 6).states.size(), 64U);
}

TEST(ReachableStates, OfVeryManyDriversAreAllOffAndAllOn) {
    const DesignBuilder build = with_switches(201);
    const Circuit circuit = circuit_of(build);
    const StateSet set = reachable_states(circuit, build.design());
    EXPECT_TRUE(set.is_bound);
    ASSERT_EQ(set.states.size(), 2U);
    EXPECT_TRUE(set.states[0].on.empty());
    EXPECT_EQ(set.states[1].on.size(), 201U);
}

TEST(ReachableStates, ArePerIsland) {
    DesignBuilder build = with_switches(2);
    build.supply("other", volts(5.0));
    build.hand_switch("lamp_switch");
    build.part("strip", {"1"}, {});
    build.wires({"other.+ -> lamp_switch.in"});
    const Circuit circuit = circuit_of(build);
    const StateSet set = reachable_states(circuit, build.design());
    EXPECT_EQ(set.states.size(), 4U + 2U);
    const IslandId second = circuit.island_of_node[circuit.node(build.terminal("other.+")).value];
    ASSERT_EQ(set.of_island[second.value].size(), 2U);
    for (const std::uint32_t index : set.of_island[second.value]) EXPECT_EQ(set.states[index].island, second);
    const IslandId none = circuit.island_of_node[circuit.node(build.terminal("strip.1")).value];
    EXPECT_TRUE(set.of_island[none.value].empty());
}

TEST(ReachableStates, LeaveOutWhatTheFirmwareNeverDoesAndSaySo) {
    DesignBuilder build = with_switches(3);
    build.never_with("s1", "s2");
    const Circuit circuit = circuit_of(build);
    const StateSet set = reachable_states(circuit, build.design());
    const std::vector<std::string> expected{"000", "001", "010", "011", "100", "101"};
    EXPECT_EQ(rows(set, circuit), expected);
    ASSERT_EQ(set.assumptions.size(), 1U);
    EXPECT_EQ(set.assumptions[0],
              "control 1: the firmware never switches on s1 and s2 together; nothing else prevents it.");
}

TEST(ReachableStates, OfManyDriversTakeEachExcludedOneWithAsManyOthersAsAllowed) {
    DesignBuilder build = with_switches(6);
    build.never_with("s1", "s2");
    const Circuit circuit = circuit_of(build);
    const auto found = rows(reachable_states(circuit, build.design()), circuit);
    for (const std::string row : {"000000", "101111", "011111", "100000", "010000", "100111", "101110"})
        EXPECT_TRUE(std::ranges::binary_search(found, row)) << row;
    for (const std::string& row : found) EXPECT_NE(row.substr(0, 2), "11");
}

TEST(ReachableStates, APromiseAboutSwitchesOfDifferentIslandsRulesNothingOut) {
    DesignBuilder build = with_switches(1);
    build.hand_switch("lamp_switch");
    build.never_with("s1", "lamp_switch");
    const StateSet set = reachable_states(circuit_of(build), build.design());
    EXPECT_EQ(set.states.size(), 4U);
    EXPECT_TRUE(set.assumptions.empty());
}

TEST(States, AChangeOverIsNeverClosedOnBothSides) {
    DesignBuilder build;
    build.relay("relay", ohms(400.0));
    build.wires({"relay.1 -> relay.COM"});
    const Circuit circuit = circuit_of(build);
    const StateSet set = reachable_states(circuit, build.design());
    ASSERT_EQ(set.states.size(), 2U);
    const Branch& coil = circuit.branches[0];
    const Branch& normally_open = circuit.branches[1];
    const Branch& normally_closed = circuit.branches[2];
    for (const State& state : set.states) {
        EXPECT_TRUE(is_closed(coil, state));
        EXPECT_NE(is_closed(normally_open, state), is_closed(normally_closed, state));
        EXPECT_EQ(is_closed(normally_open, state), !state.on.empty());
    }
}

TEST(States, ReadAsSwitchPositions) {
    DesignBuilder build = with_switches(2);
    build.heater("alone", ohms(1.0));
    const Circuit circuit = circuit_of(build);
    EXPECT_EQ(to_text(State{{0}, {{1}}}, circuit), "s1 off, s2 on");
    const IslandId island = circuit.island_of_node[circuit.node(build.terminal("alone.a")).value];
    EXPECT_EQ(to_text(State{island, {}}, circuit), "always");
}

} // namespace
} // namespace trivet
