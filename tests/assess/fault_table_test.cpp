#include "assess/fault_table.h"

#include "protection/bench_parts.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace trivet {
namespace {

// Reasoned by hand from Ohm's law and one lump of heat: C dT/dt = P - G (T - room). The question is that of IEC 60335-1
// clause 19, one fault at a time (from memory).

template <Dimension D> Stated<Range<D>> just(Quantity<D> value) { return {{value, value}, {}}; }

// A plate of 10 ohm at 25 V highest, held at 50 °C by firmware through a relay: 62.5 W, 1000 J/K, 0.5 W/K to a room of
// 20 °C, so 145 °C when nothing stops it.
struct Plate {
    DesignBuilder build;

    explicit Plate(bool with_link = true) {
        add_logic(build);
        add_relay_module(build, "relay");
        build.heater("plate", ohms(10.0));
        build.fuse("fuse", ohms(0.0));
        CutoffElement link;
        link.between = ends(0, 1);
        link.reset = CutoffReset::one_shot;
        link.trip = Given<dim::temperature>{{celsius(76.0), celsius(80.0)}, {}, Basis::measured};
        build.part("link", {"in", "out"}, {link});
        add_thermistor(build, "probe", SensorCurve::ntc);
        build.resistor("divider", ohms(10e3));
        build.wires({"supply.+ -> fuse.in", "fuse.out -> relay.A", "plate.b -> supply.-", "board.IO1 -> relay.IN",
                     "buck.out+ -> relay.VCC", "buck.out- -> relay.GND", "buck.out+ -> divider.a",
                     "divider.b -> board.AIN", "probe.a -> board.AIN", "probe.b -> board.GND"});
        if (with_link)
            build.wires({"relay.B -> link.in", "link.out -> plate.a"});
        else
            build.wire("relay.B -> plate.a");
        add_control(build, "hold", "probe", {"relay"});
        Control& control = build.design().controls.back();
        control.setpoint = just(celsius(50.0));
        control.band = just(TemperatureDifference{1.0});
    }

    Plate& with_heat(double limit = 100.0) {
        Body body;
        body.name = "metal";
        body.heated_by = {build.part_called("plate")};
        body.capacity = just(HeatCapacity{1000.0});
        body.limit = just(celsius(limit));
        build.design().bodies.push_back(body);
        HeatPath path;
        path.from = "metal";
        path.to = "ambient";
        path.from_body = {0};
        path.conductance = just(ThermalConductance{0.5});
        build.design().heat_paths.push_back(path);
        for (const auto* name : {"link", "probe"})
            build.design().parts[build.part_called(name).value].on_body = BodyId{0};
        return *this;
    }
};

FaultTable table_of(const DesignBuilder& build, bool pairs = false) {
    return fault_table(build.design(), analyse(build.design(), {}, {}), pairs);
}

const FaultRow& row_of(const FaultTable& table, std::string_view fault) {
    const auto found = std::ranges::find(table.rows, fault, &FaultRow::fault);
    if (found == table.rows.end()) throw std::invalid_argument("no row " + std::string(fault));
    return *found;
}

using Names = std::vector<std::string>;

TEST(FaultTable, AStuckSwitchWithoutCutoffIsAHazard) {
    const FaultTable table = table_of(Plate(false).with_heat().build);
    const FaultRow& row = row_of(table, "relay stuck closed");
    EXPECT_EQ(row.outcome, FaultClass::hazard);
    EXPECT_EQ(row.stuck_on, Names{"plate"});
    ASSERT_TRUE(row.heat && row.heat->passed);
    EXPECT_EQ(row.heat->stopped_by, "");
    EXPECT_EQ(row.heat->passed->limit, "the limit of metal");
    EXPECT_NEAR(in_celsius(row.heat->passed->reached), 145.0, 0.5);
    EXPECT_TRUE(table.has_hazard());
}

// From 50 °C towards 145 °C with C/G = 2000 s: 80 °C after 2000 s ln(95/65) = 759 s, and the cutoff feels it later.
TEST(FaultTable, ACutoffThatOpensInTimeKeepsItSafe) {
    const FaultTable table = table_of(Plate().with_heat().build);
    for (const auto* fault : {"relay stuck closed", "board.IO1 stuck high", "probe line broken", "probe detached",
                              "control 'hold' always on", "board switches everything to heat"}) {
        const FaultRow& row = row_of(table, fault);
        EXPECT_EQ(row.outcome, FaultClass::safe) << fault;
        EXPECT_EQ(row.cutoffs, Names{"link"}) << fault;
        ASSERT_TRUE(row.heat) << fault;
        EXPECT_EQ(row.heat->stopped_by, "link") << fault;
        EXPECT_NEAR(row.heat->stopped_after.si, 775.0, 30.0) << fault;
        EXPECT_NEAR(in_celsius(row.heat->hottest_at), 80.5, 1.0) << fault;
    }
    EXPECT_FALSE(table.has_hazard());
    EXPECT_FALSE(table.sound);
    EXPECT_FALSE(table.running);
}

TEST(FaultTable, ACutoffThatOpensTooLateIsAHazard) {
    const FaultTable table = table_of(Plate().with_heat(70.0).build);
    const FaultRow& row = row_of(table, "relay stuck closed");
    EXPECT_EQ(row.outcome, FaultClass::hazard);
    EXPECT_EQ(row.heat->stopped_by, "link");
    EXPECT_NEAR(in_celsius(row.heat->passed->limit_at), 70.0, 1e-9);
}

TEST(FaultTable, WithoutBodiesACutoffCannotBeJudgedAndNoCutoffIsAHazard) {
    const FaultRow guarded = row_of(table_of(Plate().build), "relay stuck closed");
    EXPECT_EQ(guarded.outcome, FaultClass::cannot_tell);
    ASSERT_EQ(guarded.missing.size(), 1U);
    EXPECT_NE(guarded.missing[0].find("[[body]]"), std::string::npos);
    EXPECT_EQ(row_of(table_of(Plate(false).build), "relay stuck closed").outcome, FaultClass::hazard);
}

TEST(FaultTable, AHeaterThatNoBodyHasIsNamed) {
    Plate plate;
    plate.with_heat().build.design().bodies[0].heated_by.clear();
    const FaultRow row = row_of(table_of(plate.build), "relay stuck closed");
    EXPECT_EQ(row.outcome, FaultClass::cannot_tell);
    EXPECT_EQ(row.missing, Names{"a [[body]] with heated_by = \"plate\""});
}

TEST(FaultTable, AConverterThatPassesItsInputThroughDamagesTheBoard) {
    const FaultTable table = table_of(Plate().with_heat().build);
    const FaultRow& row = row_of(table, "buck passes its input through");
    EXPECT_EQ(row.outcome, FaultClass::damages);
    const auto board = std::ranges::find(row.exceeded, "board", &FaultRow::Excess::of);
    ASSERT_NE(board, row.exceeded.end());
    EXPECT_NEAR(board->value.si, 25.0, 0.2);
    EXPECT_NEAR(board->limit.si, 6.0, 1e-9);
}

TEST(FaultTable, WhatNobodyNoticesIsLatent) {
    const FaultTable table = table_of(Plate().with_heat().build);
    EXPECT_EQ(row_of(table, "link never opens").outcome, FaultClass::latent);
    EXPECT_EQ(row_of(table, "fuse bridged with wire").outcome, FaultClass::latent);
}

TEST(FaultTable, WhatNoLongerHeatsStopsWorking) {
    const FaultTable table = table_of(Plate().with_heat().build);
    for (const auto* fault : {"fuse blown", "plate broken inside", "link open for no reason", "relay stuck open",
                              "wire W6 broken", "board.IO1 stuck low", "probe line shorted"}) {
        EXPECT_EQ(row_of(table, fault).outcome, FaultClass::stops) << fault;
        EXPECT_EQ(row_of(table, fault).unfed, Names{"plate"}) << fault;
    }
    EXPECT_EQ(row_of(table, "wire W6 broken").wire, "W6");
}

// Voltage divider rule: 10 kohm from 3.3 V or 5 V to the pin, the NTC from the pin to ground. High reads cold and
// heats.
TEST(FaultTable, ADividerMisleadsTheControl) {
    const FaultTable table = table_of(Plate().with_heat().build);
    EXPECT_EQ(row_of(table, "divider shorted").stuck_on, Names{"plate"});
    for (const auto* fault : {"divider broken inside", "wire W11 broken", "wire W12 broken"})
        EXPECT_EQ(row_of(table, fault).unfed, Names{"plate"}) << fault;
}

TEST(FaultTable, PairsAreListedWhereTheyAreWorseThanEachAlone) {
    const FaultTable table = table_of(Plate().with_heat().build, true);
    ASSERT_FALSE(table.rows.empty());
    for (const FaultRow& row : table.rows) {
        EXPECT_EQ(row.outcome, FaultClass::hazard) << row.fault;
        EXPECT_EQ(row.with, "link never opens") << row.fault;
    }
    EXPECT_NE(std::ranges::find(table.rows, "relay stuck closed", &FaultRow::fault), table.rows.end());
    EXPECT_GT(table.no_worse, table.rows.size());
}

TEST(FaultTable, ConsequencesAreInTheOrderOfTheirWeight) {
    const FaultTable table = table_of(Plate().with_heat().build);
    EXPECT_TRUE(std::ranges::is_sorted(table.rows, {}, &FaultRow::outcome));
    std::size_t total = 0;
    for (const std::size_t count : table.count) total += count;
    EXPECT_EQ(total, table.rows.size());
}

// Wired straight to the supply it heats without any fault: 145 °C again.
TEST(FaultTable, WhatHeatsWithoutAnyFaultStandsOnTop) {
    Plate plate(false);
    plate.with_heat().build.wire("fuse.out -> plate.a");
    const FaultTable table = table_of(plate.build);
    ASSERT_TRUE(table.sound);
    EXPECT_EQ(table.sound->stuck_on, Names{"plate"});
    EXPECT_FALSE(table.sound->while_hand_switch_on);
    EXPECT_EQ(table.sound->outcome, FaultClass::hazard);
    EXPECT_TRUE(row_of(table, "relay stuck closed").stuck_on.empty()) << "already so without the fault";
}

// With half its resistance a heater at the same voltage takes twice the power: 20 K + 250 K.
TEST(FaultTable, AHeaterThatNothingRegulatesGetsMoreFromAFault) {
    DesignBuilder build;
    build.supply("supply", volts(25.0));
    build.hand_switch("main");
    build.heater("plate", ohms(10.0));
    build.wires({"supply.+ -> main.in", "main.out -> plate.a", "plate.b -> supply.-"});
    Plate other;
    build.design().bodies = other.with_heat(200.0).build.design().bodies;
    build.design().bodies[0].heated_by = {build.part_called("plate")};
    build.design().heat_paths = other.build.design().heat_paths;
    const FaultTable table = table_of(build);
    ASSERT_TRUE(table.sound);
    EXPECT_TRUE(table.sound->while_hand_switch_on);
    EXPECT_EQ(table.sound->outcome, FaultClass::safe);
    const FaultRow& row = row_of(table, "plate half shorted");
    EXPECT_EQ(row.outcome, FaultClass::hazard);
    EXPECT_NEAR(row.overdrive, 2.0, 1e-9);
    EXPECT_NEAR(in_celsius(row.heat->passed->reached), 270.0, 1.0);
    // 1.2 times the voltage is 1.44 times the power: 20 K + 180 K.
    EXPECT_NEAR(row_of(table, "supply gives 20 % too much voltage").overdrive, 1.44, 1e-9);
    EXPECT_EQ(row_of(table, "main stuck closed").stuck_on, Names{"plate"});
}

// A battery limits nothing: 12 V over 20 mohm drive 600 A. Common practice, no source: a fuse has to end that.
TEST(FaultTable, AShortOnABatteryNeedsAFuse) {
    for (const bool fused : {false, true}) {
        DesignBuilder build;
        build.battery("battery", volts(12.0), ohms(0.02));
        build.current_load("fan", amperes(0.2));
        build.fuse("fuse", ohms(0.001), amperes(2.0));
        build.wire("fan.- -> battery.-");
        if (fused)
            build.wires({"battery.+ -> fuse.in", "fuse.out -> fan.+"});
        else
            build.wire("battery.+ -> fan.+");
        const FaultRow row = row_of(table_of(build), "fan shorted");
        EXPECT_EQ(row.outcome, fused ? FaultClass::stops : FaultClass::hazard);
        EXPECT_EQ(row.unlimited && row.in_the_way.empty(), !fused);
    }
}

TEST(FaultTable, ContactsThatNobodyWiredAreLeftOut) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.relay("relay", ohms(600.0));
    build.heater("plate", ohms(10.0));
    build.wires({"supply.+ -> relay.COM", "relay.NO -> plate.a", "plate.b -> supply.-", "supply.+ -> relay.1",
                 "relay.2 -> supply.-"});
    const FaultTable table = table_of(build);
    std::size_t contacts = 0;
    for (const FaultRow& row : table.rows) contacts += row.mode == "stuck closed" || row.mode == "stuck open" ? 1U : 0U;
    EXPECT_EQ(contacts, 2U) << "of NO only, not of NC";
}

} // namespace
} // namespace trivet
