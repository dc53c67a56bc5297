#include "protection/fault_cases.h"

#include "protection/bench_parts.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet {
namespace {

// A bench with one of everything: board and relay module, probe, fan, fuse, cutoff and plate.
DesignBuilder usual(SensorCurve curve = SensorCurve::ntc) {
    DesignBuilder build;
    add_logic(build);
    add_relay_module(build, "relay");
    build.heater("plate", ohms(10.0));
    build.fuse("fuse");
    build.cutoff("link");
    add_thermistor(build, "probe", curve);
    build.resistor("divider", ohms(10e3));
    LoadElement motor;
    motor.between = ends(0, 1);
    motor.category = LoadCategory::motor;
    motor.current = amperes(0.1);
    build.part("fan", {"+", "-"}, {motor});
    add_control(build, "hold", "probe", {"relay"});
    build.wires({"supply.+ -> fuse.in", "fuse.out -> relay.A", "relay.B -> link.in", "link.out -> plate.a",
                 "plate.b -> supply.-", "board.IO1 -> relay.IN", "buck.out+ -> relay.VCC", "buck.out- -> relay.GND",
                 "buck.out+ -> divider.a", "divider.b -> board.AIN", "probe.a -> board.AIN", "probe.b -> board.GND",
                 "supply.+ -> fan.+", "fan.- -> supply.-"});
    return build;
}

std::string modes_of(const Traced& traced, std::string_view part) {
    std::string text;
    for (const FaultCase& fault : traced.cases) {
        if (fault.wire || fault.control || traced.design.part(fault.part).name != part) continue;
        text += text.empty() ? "" : ", ";
        text += fault_mode_names[static_cast<std::size_t>(fault.mode)];
    }
    return text;
}

// The faults follow IEC 60335-1 clause 19.11.2: open or short circuit of any part, one at a time (from memory).
TEST(FaultCases, CoverEveryElementOfAUsualBuild) {
    const DesignBuilder build = usual();
    const Traced traced(build);
    const std::vector<std::pair<const char*, const char*>> rows{
        {"supply", "dead, 20 % too high"},
        {"buck", "dead, passes its input through"},
        {"board", "shorted, open, stuck high, stuck low, switches everything to heat"},
        {"relay", "stuck closed, stuck open, input line open, shorted, open"},
        {"plate", "open, half shorted"},
        {"fuse", "open, bridged"},
        {"link", "stuck closed, stuck open"},
        {"probe", "line open, line shorted, detached"},
        {"divider", "open, shorted"},
        {"fan", "shorted, stopped"},
    };
    for (const auto& [part, modes] : rows) EXPECT_EQ(modes_of(traced, part), modes) << part;
    // Wires of inputs carry no current: their fault is that of the input.
    EXPECT_NE(traced.find("wire W1 open"), nullptr);
    EXPECT_EQ(traced.find("wire W10 open"), nullptr);
}

struct Row {
    const char* description;
    const char* forced;
    bool latent = false;
};

void expect_rows(const DesignBuilder& build, const std::vector<Row>& rows) {
    const Traced traced(build);
    for (const Row& row : rows) {
        const FaultCase* fault = traced.find(row.description);
        ASSERT_NE(fault, nullptr) << row.description;
        EXPECT_EQ(traced.forced(*fault), row.forced) << row.description;
        EXPECT_EQ(fault->latent, row.latent) << row.description;
    }
}

TEST(FaultCases, SayWhatTheControlThenDoes) {
    expect_rows(usual(), {{"board.IO1 stuck high", "relay on"},
                          {"board.IO1 stuck low", "relay off"},
                          {"relay.IN input line open", "relay off"},
                          {"control hold always on", "relay on"},
                          {"board switches everything to heat", "relay on"},
                          {"probe thermistor detached", "relay on"},
                          {"wire W15 open", "relay on"},
                          {"fuse fuse bridged", "", true},
                          {"link cutoff stuck closed", "", true},
                          {"link cutoff stuck open", ""}});
}

// An NTC's resistance falls with temperature (IEC 60539-1), that of platinum rises (IEC 60751).
TEST(FaultCases, TheSensorsKindDecidesWhichBreakHeats) {
    expect_rows(usual(SensorCurve::ntc),
                {{"probe thermistor line open", "relay on"}, {"probe thermistor line shorted", "relay off"}});
    expect_rows(usual(SensorCurve::platinum),
                {{"probe thermistor line open", "relay off"}, {"probe thermistor line shorted", "relay on"}});
}

TEST(FaultCases, ASensorThatNoControlNamesLeadsWhatItsBoardDrives) {
    DesignBuilder build = usual();
    build.design().controls.clear();
    expect_rows(build, {{"probe thermistor line open", "relay on"}});
}

TEST(FaultCases, AHeaterOnTheRestingContactHeatsWhenTheRelayLetsGo) {
    DesignBuilder build;
    add_logic(build);
    build.heater("plate", ohms(10.0));
    build.relay("relay", ohms(600.0));
    build.transistor_module("low");
    add_control(build, "hold", "", {"relay"});
    build.wires({"supply.+ -> relay.COM", "relay.NC -> plate.a", "plate.b -> supply.-", "supply.+ -> relay.1",
                 "relay.2 -> low.a", "low.b -> supply.-", "board.IO1 -> low.IN"});
    expect_rows(build, {{"relay coil open", "relay off"},
                        {"control hold always on", "relay off, low off"},
                        {"board switches everything to heat", "low off"}});
}

TEST(FaultCases, AThermostatThatRegulatesIsNotLatentWhenItSticks) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.relay("relay", ohms(600.0));
    add_thermostat(build, "stat");
    build.cutoff("link");
    build.wires({"supply.+ -> relay.COM", "relay.NO -> link.in", "link.out -> plate.a", "plate.b -> supply.-",
                 "supply.+ -> stat.in", "stat.out -> relay.1", "relay.2 -> supply.-"});
    expect_rows(build, {{"stat cutoff stuck closed", ""}, {"link cutoff stuck closed", "", true}});
}

struct RestRow {
    const char* what;
    const char* when_open;
    std::vector<std::string_view> wires;
    const char* forced;
    bool assumed;
};

TEST(FaultCases, AnOpenInputRestsWhereTheModuleOrAResistorHoldsIt) {
    const std::vector<RestRow> rows{
        {"stated off", "off", {}, "relay off", false},
        {"stated on", "on", {}, "relay on", false},
        {"not stated", "unstated", {}, "relay on", true},
        {"pulled down", "unstated", {"r.a -> relay.IN", "r.b -> buck.out-"}, "relay off", false},
        {"pulled up", "unstated", {"r.a -> relay.IN", "r.b -> buck.out+"}, "relay on", false},
    };
    for (const RestRow& row : rows) {
        DesignBuilder build;
        add_logic(build);
        add_relay_module(build, "relay", row.when_open);
        build.resistor("r", ohms(10e3));
        build.wires({"board.IO1 -> relay.IN", "buck.out+ -> relay.VCC", "buck.out- -> relay.GND"});
        for (const std::string_view wire : row.wires) build.wires({wire});
        const Traced traced(build);
        const FaultCase* fault = traced.find("relay.IN input line open");
        ASSERT_NE(fault, nullptr);
        EXPECT_EQ(traced.forced(*fault), row.forced) << row.what;
        EXPECT_EQ(fault->assumed, row.assumed) << row.what;
    }
}

} // namespace
} // namespace trivet
