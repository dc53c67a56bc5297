#include "protection/actuation.h"

#include "protection/bench_parts.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet {
namespace {

// What is judged here follows from the wiring alone. That a control and its backup may not share a sensor, a contact or
// a program is the idea of type 2 actions and class B software in IEC 60730-1 (from memory).

std::string shared(const Traced& traced, const Actuation& a, const Actuation& b) {
    std::string text;
    for (const SharedThing& thing : what_is_shared(traced.circuit, a, b)) {
        text += text.empty() ? "" : ", ";
        text += shared_names[static_cast<std::size_t>(thing.kind)];
        text += thing.kind == Shared::control ? " " + traced.design.controls[thing.control].name
                                              : " " + traced.design.part(thing.part).name;
    }
    return text;
}

TEST(Actuation, TracesAModuleToItsPinBoardSupplySensorAndControl) {
    DesignBuilder build;
    add_logic(build);
    add_relay_module(build, "relay");
    build.heater("plate", ohms(10.0));
    build.hand_switch("main");
    add_thermistor(build, "probe", SensorCurve::ntc);
    add_control(build, "hold", "probe", {"relay"});
    build.wires({"supply.+ -> relay.A", "relay.B -> plate.a", "plate.b -> supply.-", "board.IO1 -> relay.IN",
                 "buck.out+ -> main.in", "main.out -> relay.VCC", "buck.out- -> relay.GND"});
    const Traced traced(build);
    const Actuation& relay = traced.actuation("relay");
    EXPECT_EQ(relay.by, ActuatedBy::pin);
    ASSERT_TRUE(relay.input);
    EXPECT_EQ(build.design().terminal_name(*relay.input), "relay.IN");
    ASSERT_EQ(relay.pins.size(), 1U);
    EXPECT_EQ(build.design().terminal_name(relay.pins.front()), "board.IO1");
    EXPECT_EQ(traced.parts(relay.boards), "board");
    EXPECT_EQ(traced.parts(relay.sensors), "probe");
    EXPECT_EQ(relay.controls.size(), 1U);
    EXPECT_EQ(traced.parts(relay.converters), "buck");
    EXPECT_EQ(traced.parts(relay.supplies), "supply");
    EXPECT_EQ(traced.parts(relay.fed_through), "main");
    EXPECT_FALSE(relay.returns_to_itself);
}

TEST(Actuation, TracesABareRelayThroughItsTransistorAndThermostat) {
    DesignBuilder build;
    add_logic(build);
    build.relay("relay", ohms(600.0));
    build.transistor_module("low");
    add_thermostat(build, "stat");
    build.wires(
        {"supply.+ -> stat.in", "stat.out -> relay.1", "relay.2 -> low.a", "low.b -> supply.-", "board.IO2 -> low.IN"});
    const Traced traced(build);
    const Actuation& relay = traced.actuation("relay");
    EXPECT_EQ(relay.by, ActuatedBy::switches);
    EXPECT_EQ(traced.parts(relay.through), "stat low");
    EXPECT_EQ(traced.parts(relay.boards), "board");
    EXPECT_EQ(traced.parts(relay.sensors), "stat");
    EXPECT_EQ(relay.own_pins, 0U);
}

struct Row {
    const char* what;
    std::vector<std::string_view> wires;
    ActuatedBy by;
    bool returns;
};

TEST(Actuation, SaysWhatStandsAtTheInputOrCoil) {
    const std::vector<Row> rows{
        {"an input in the air", {}, ActuatedBy::nothing, false},
        {"an input tied to its supply", {"buck.out+ -> module.IN"}, ActuatedBy::fixed, false},
        {"a pin through a resistor", {"board.IO1 -> r.a", "r.b -> module.IN"}, ActuatedBy::pin, false},
        {"a pull-up beside the pin",
         {"board.IO1 -> module.IN", "r.a -> module.IN", "r.b -> buck.out+"},
         ActuatedBy::pin,
         false},
        {"a push button", {"buck.out+ -> button.in", "button.out -> module.IN"}, ActuatedBy::switches, false},
        {"a module that switches its own input",
         {"buck.out+ -> module.A", "module.B -> module.IN"},
         ActuatedBy::switches,
         true},
        {"a module that feeds the board that drives it",
         {"board.IO1 -> module.IN", "supply.+ -> module.A", "module.B -> own.in+", "supply.- -> own.in-",
          "own.out+ -> second.5V", "own.out- -> second.GND", "second.IO1 -> module.IN"},
         ActuatedBy::pin,
         true},
    };
    for (const Row& row : rows) {
        DesignBuilder build;
        add_logic(build);
        add_relay_module(build, "module");
        add_board(build, "second");
        build.converter("own", Topology::step_down, volts(8.0, 30.0), volts(5.0), number(0.9));
        build.hand_switch("button");
        build.resistor("r", ohms(1000.0));
        build.wires({"buck.out+ -> module.VCC", "buck.out- -> module.GND"});
        for (const std::string_view wire : row.wires) build.wires({wire});
        const Traced traced(build);
        EXPECT_EQ(traced.actuation("module").by, row.by) << row.what;
        EXPECT_EQ(traced.actuation("module").returns_to_itself, row.returns) << row.what;
    }
}

TEST(Actuation, AHandSwitchIsMovedByHand) {
    DesignBuilder build;
    build.hand_switch("main");
    EXPECT_EQ(Traced(build).actuation("main").by, ActuatedBy::hand);
}

TEST(Actuation, ARelayThatHoldsItselfReturnsToItself) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.relay("relay", ohms(600.0));
    build.hand_switch("start");
    build.wires({"supply.+ -> start.in", "start.out -> relay.1", "supply.+ -> relay.COM", "relay.NO -> relay.1",
                 "relay.2 -> supply.-"});
    const Traced traced(build);
    const Actuation& relay = traced.actuation("relay");
    EXPECT_TRUE(relay.returns_to_itself);
    EXPECT_EQ(relay.by, ActuatedBy::switches);
    EXPECT_EQ(traced.parts(relay.through), "relay start");
}

TEST(Actuation, TwoRelaysOnOneBoardAreOneControl) {
    DesignBuilder build;
    add_logic(build);
    add_board(build, "other");
    build.wires({"buck.out+ -> other.5V", "buck.out- -> other.GND"});
    for (const char* name : {"first", "second", "third"}) add_relay_module(build, name);
    build.cutoff("link");
    build.wires({"board.IO1 -> first.IN", "board.IO2 -> second.IN", "other.IO1 -> third.IN"});
    const Traced traced(build);
    const Actuation& first = traced.actuation("first");
    EXPECT_EQ(shared(traced, first, traced.actuation("second")), "board board, converter buck, supply supply");
    EXPECT_FALSE(are_independent(traced.circuit, first, traced.actuation("second")));
    EXPECT_TRUE(are_independent(traced.circuit, first, traced.actuation("third")));
    std::vector<Actuation> all = traced.actuations;
    all.push_back(actuation_of_cutoff(traced.circuit, traced.design, branch_of(traced.circuit, build, "link")));
    EXPECT_EQ(independent_groups(traced.circuit, all), (std::vector<std::vector<std::size_t>>{{0, 1}, {2}, {3}}));
}

TEST(Actuation, NamesEverythingThatIsShared) {
    DesignBuilder build;
    add_logic(build);
    add_board(build, "other");
    build.wires({"buck.out+ -> other.5V", "buck.out- -> other.GND"});
    add_relay_module(build, "first");
    add_relay_module(build, "second");
    build.cutoff("stat");
    add_thermistor(build, "probe", SensorCurve::ntc);
    add_control(build, "one", "probe", {"first"});
    add_control(build, "two", "probe", {"second"});
    add_control(build, "three", "stat", {"second"});
    build.wires({"board.IO1 -> first.IN", "other.IO1 -> second.IN", "buck.out+ -> first.VCC", "buck.out- -> first.GND",
                 "buck.out+ -> second.VCC", "buck.out- -> second.GND"});
    const Traced traced(build);
    EXPECT_EQ(shared(traced, traced.actuation("first"), traced.actuation("second")),
              "sensor probe, converter buck, supply supply");
    const Actuation stat = actuation_of_cutoff(traced.circuit, traced.design, branch_of(traced.circuit, build, "stat"));
    EXPECT_EQ(stat.by, ActuatedBy::heat);
    EXPECT_EQ(shared(traced, stat, traced.actuation("second")), "sensor stat, control three");
    EXPECT_EQ(shared(traced, stat, traced.actuation("first")), "");
}

TEST(Actuation, AThermostatInTheCoilsLeadIsSharedWithTheRelay) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.relay("relay", ohms(600.0));
    add_thermostat(build, "stat");
    build.wires({"supply.+ -> stat.in", "stat.out -> relay.1", "relay.2 -> supply.-"});
    const Traced traced(build);
    const Actuation stat = actuation_of_cutoff(traced.circuit, traced.design, branch_of(traced.circuit, build, "stat"));
    EXPECT_EQ(shared(traced, stat, traced.actuation("relay")), "passed on by stat, sensor stat");
}

TEST(Actuation, RingsOfRelaysEnd) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    for (int i = 0; i < 20; ++i) build.relay("r" + std::to_string(i), ohms(600.0));
    for (int i = 0; i < 20; ++i) {
        const std::string here = "r" + std::to_string(i);
        const std::string next = "r" + std::to_string((i + 1) % 20);
        build.wires({"supply.+ -> " + here + ".COM", here + ".NO -> " + next + ".1", next + ".2 -> supply.-"});
    }
    const Traced traced(build);
    for (const Actuation& relay : traced.actuations) {
        EXPECT_TRUE(relay.returns_to_itself);
        EXPECT_EQ(relay.drivers.size(), 20U);
    }
}

} // namespace
} // namespace trivet
