#include "protection/fault_outcome.h"

#include "protection/bench_parts.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet {
namespace {

// Powers and voltages are checked against Ohm's law; who still turns the heat off follows from the wiring. The question
// is that of IEC 60335-1 clause 19: with this one fault, what ends the heat? (from memory)

struct Studied : Traced {
    explicit Studied(const DesignBuilder& build)
        : Traced(build)
        , study(study_faults(circuit, nets, design, actuations, off, cases)) {}

    const FaultOutcome& outcome(std::string_view description) const {
        const FaultCase* fault = find(description);
        if (fault == nullptr) throw std::invalid_argument("no fault " + std::string(description));
        return study.outcomes[static_cast<std::size_t>(fault - cases.data())];
    }
    std::string drivers(const std::vector<DriverId>& list) const {
        std::string text;
        for (const DriverId id : list) text += " " + circuit.drivers[id.value].name;
        return text;
    }
    // "plate 57.6 W: link main; mat 10.0 W: -"
    std::string stuck(const FaultOutcome& outcome) const {
        std::string text;
        for (const StuckOn& s : outcome.stuck_on) {
            char watts[32];
            std::snprintf(watts, sizeof watts, " %.1f W:", s.highest_power);
            std::string by =
                (s.cutoffs.empty() ? "" : " ") + parts(s.cutoffs) + drivers(s.hand_switches) + drivers(s.switches);
            if (s.needs_hand_switch) by += " (main on)";
            text += (text.empty() ? "" : "; ") + design.part(circuit.branches[s.heater.value].part).name + watts +
                    (by.empty() ? " -" : by);
        }
        return text;
    }
    std::string stuck(std::string_view description) const { return stuck(outcome(description)); }
    std::string unfed(std::string_view description) const { return parts(outcome(description).unfed); }

    FaultStudy study;
};

// 24 V nominal (25 V highest), plate of 10 ohm: at most 62.5 W.
DesignBuilder usual() {
    DesignBuilder build;
    add_logic(build);
    add_relay_module(build, "relay");
    build.heater("plate", ohms(10.0));
    build.fuse("fuse", ohms(0.0));
    build.cutoff("link", ohms(0.0));
    build.hand_switch("main", ohms(0.0));
    add_thermistor(build, "probe", SensorCurve::ntc);
    build.resistor("divider", ohms(10e3));
    add_control(build, "hold", "probe", {"relay"});
    build.wires({"supply.+ -> fuse.in", "fuse.out -> main.in", "main.out -> relay.A", "relay.B -> link.in",
                 "link.out -> plate.a", "plate.b -> supply.-", "board.IO1 -> relay.IN", "buck.out+ -> relay.VCC",
                 "buck.out- -> relay.GND", "buck.out+ -> divider.a", "divider.b -> board.AIN", "probe.a -> board.AIN",
                 "probe.b -> board.GND"});
    return build;
}

TEST(FaultOutcome, NamesWhoStillTurnsTheHeatOff) {
    const Studied studied(usual());
    EXPECT_EQ(studied.stuck(studied.study.sound), "");
    const std::string by_both = "plate 62.5 W: link main (main on)";
    for (const char* fault :
         {"relay contact stuck closed", "board.IO1 stuck high", "probe thermistor line open",
          "probe thermistor detached", "control hold always on", "board switches everything to heat"})
        EXPECT_EQ(studied.stuck(fault), by_both) << fault;
    for (const char* fault :
         {"relay contact stuck open", "board.IO1 stuck low", "probe thermistor line shorted", "fuse fuse bridged",
          "link cutoff stuck closed", "main contact stuck closed", "relay.IN input line open", "buck converter dead"})
        EXPECT_EQ(studied.stuck(fault), "") << fault;
}

TEST(FaultOutcome, NamesWhatLosesItsFeed) {
    const Studied studied(usual());
    EXPECT_EQ(studied.unfed("relay contact stuck open"), "plate");
    EXPECT_EQ(studied.unfed("link cutoff stuck open"), "plate");
    EXPECT_EQ(studied.unfed("supply source dead"), "board relay plate");
    // Without its 5 V the module lets go, and the board's pin is dead.
    EXPECT_EQ(studied.unfed("buck converter dead"), "board relay plate");
    EXPECT_EQ(studied.unfed("plate heater open"), "plate");
    EXPECT_EQ(studied.unfed("relay contact stuck closed"), "");
}

TEST(FaultOutcome, NamesWhatGetsTooMuch) {
    const Studied studied(usual());
    const auto& through = studied.outcome("buck converter passes its input through");
    std::string text;
    for (const Exceeded& e : through.exceeded) text += studied.parts(std::vector{e.rating.branch}) + " ";
    ASSERT_GE(through.exceeded.size(), 2U);
    EXPECT_NEAR(through.exceeded.front().value, 25.0, 0.01);
    EXPECT_DOUBLE_EQ(through.exceeded.front().rating.limit, 6.0); // of the board
    EXPECT_EQ(text.substr(0, 12), "board relay ");
    // Behind its regulator the board sees nothing of a supply that is 20 % too high.
    EXPECT_TRUE(studied.outcome("supply source 20 % too high").exceeded.empty());
    EXPECT_EQ(studied.outcome("board load shorted").overloaded.size(), 1U);
}

struct Row {
    const char* fault;
    const char* stuck;
};

void expect(const DesignBuilder& build, const std::vector<Row>& rows) {
    const Studied studied(build);
    for (const Row& row : rows) EXPECT_EQ(studied.stuck(row.fault), row.stuck) << row.fault;
}

TEST(FaultOutcome, AThermostatInTheCoilsLeadDoesNotEndAWeldedContact) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.relay("relay", ohms(600.0));
    add_thermostat(build, "stat");
    build.wires({"supply.+ -> relay.COM", "relay.NO -> plate.a", "plate.b -> supply.-", "supply.+ -> stat.in",
                 "stat.out -> relay.1", "relay.2 -> supply.-"});
    expect(build, {{"relay contact stuck closed", "plate 57.6 W: -"},
                   {"stat cutoff stuck closed", "plate 57.6 W: -"},
                   {"relay coil open", ""}});
}

TEST(FaultOutcome, OfTwoThermostatsTheSecondEndsWhatTheFirstFailsToOpen) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.hand_switch("main", ohms(0.0));
    add_thermostat(build, "stat", 333.0);
    add_thermostat(build, "backup", 373.0);
    build.wires({"supply.+ -> main.in", "main.out -> backup.in", "backup.out -> stat.in", "stat.out -> plate.a",
                 "plate.b -> supply.-"});
    const Studied studied(build);
    EXPECT_EQ(studied.stuck(studied.study.sound), "");
    EXPECT_EQ(studied.stuck("stat cutoff stuck closed").substr(0, 26), "plate 57.6 W: backup main ");
    EXPECT_EQ(studied.stuck("backup cutoff stuck closed"), "");
    EXPECT_TRUE(studied.find("backup cutoff stuck closed")->latent);
    EXPECT_FALSE(studied.find("stat cutoff stuck closed")->latent);
}

TEST(FaultOutcome, FollowsAShortedTransistorThroughTheRelayItDrives) {
    DesignBuilder build;
    add_logic(build);
    build.heater("plate", ohms(10.0));
    build.relay("relay", ohms(600.0));
    build.transistor_module("low");
    build.cutoff("link", ohms(0.0));
    build.wires({"supply.+ -> relay.COM", "relay.NO -> link.in", "link.out -> plate.a", "plate.b -> supply.-",
                 "supply.+ -> relay.1", "relay.2 -> low.a", "low.b -> supply.-", "board.IO1 -> low.IN"});
    expect(build, {{"low transistor shorted", "plate 62.5 W: link"},
                   {"board.IO1 stuck high", "plate 62.5 W: link"},
                   {"relay contact-2 stuck closed", ""}});
}

TEST(FaultOutcome, ASecondRelayOnTheSameBoardIsNoSecondControl) {
    for (const bool same_board : {true, false}) {
        DesignBuilder build;
        add_logic(build);
        add_board(build, "other");
        add_relay_module(build, "first");
        add_relay_module(build, "second");
        build.heater("plate", ohms(10.0));
        build.wires({"supply.+ -> first.A", "first.B -> second.A", "second.B -> plate.a", "plate.b -> supply.-",
                     "board.IO1 -> first.IN", same_board ? "board.IO2 -> second.IN" : "other.IO2 -> second.IN"});
        expect(build, {{"first contact stuck closed", ""},
                       {"board.IO1 stuck high", ""},
                       {"board switches everything to heat", same_board ? "plate 62.5 W: -" : ""}});
    }
}

TEST(FaultOutcome, AHeaterOnTheRestingContactIsOnWhenTheBoardDies) {
    DesignBuilder build;
    add_logic(build);
    ContactElement contact;
    contact.between = ends(0, 1);
    contact.rests_closed = true;
    contact.driven_by = "IN";
    InputElement input;
    input.terminal = {2};
    input.reference = {3};
    input.when_open = "off";
    build.part("relay", {"COM", "NC", "IN", "GND"}, {contact, input});
    build.heater("plate", ohms(10.0));
    build.hand_switch("main", ohms(0.0));
    build.wires({"supply.+ -> main.in", "main.out -> relay.COM", "relay.NC -> plate.a", "plate.b -> supply.-",
                 "board.IO1 -> relay.IN"});
    expect(build, {{"buck converter dead", "plate 62.5 W: main (main on)"},
                   {"relay.IN input line open", "plate 62.5 W: main (main on)"},
                   {"board.IO1 stuck low", "plate 62.5 W: main (main on)"},
                   {"wire W1 open", "plate 62.5 W: main (main on)"},
                   {"board.IO1 stuck high", ""}});
}

TEST(FaultOutcome, AnOverrideAndAHeaterNobodyCanSwitchAreOnWithoutAnyFault) {
    DesignBuilder build = usual();
    build.hand_switch("boost", ohms(0.0));
    build.heater("mat", ohms(25.0));
    build.wires({"supply.+ -> boost.in", "boost.out -> plate.a", "supply.+ -> mat.a", "mat.b -> supply.-"});
    const Studied studied(build);
    EXPECT_EQ(studied.stuck(studied.study.sound), "mat 25.0 W: -; plate 62.5 W: boost (main on)");
}

TEST(FaultOutcome, TwoSuppliesAndOneShort) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.supply("second", volts(12.0));
    build.heater("plate", ohms(10.0));
    build.hand_switch("one", ohms(0.0));
    build.hand_switch("two", ohms(0.0));
    build.cutoff("link", ohms(0.0));
    build.wires({"supply.+ -> one.in", "one.out -> plate.a", "second.+ -> two.in", "two.out -> link.in",
                 "link.out -> plate.a", "plate.b -> supply.-", "plate.b -> second.-"});
    expect(build,
           {{"one contact stuck closed", "plate 57.6 W: -"}, {"two contact stuck closed", "plate 14.4 W: link"}});
}

// Current through another heater: 24 V over 10 and 20 ohm in series leaves 0.8 A, 6.4 W in the plate.
TEST(FaultOutcome, CurrentThroughAnotherHeaterCounts) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.heater("mat", ohms(20.0));
    build.hand_switch("plus", ohms(0.0));
    build.hand_switch("minus", ohms(0.0));
    build.wires({"supply.+ -> plus.in", "plus.out -> plate.a", "plate.b -> minus.in", "minus.out -> supply.-",
                 "plate.b -> mat.a", "mat.b -> supply.-"});
    expect(build, {{"plus contact stuck closed", "plate 6.4 W: -; mat 12.8 W: -"}});
}

TEST(FaultOutcome, BadWiringGivesAnAnswer) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.supply("upside", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.heater("looped", ohms(10.0));
    build.cutoff("nowhere");
    build.cutoff("beside");
    build.relay("buzzer", ohms(100.0));
    build.relay("own", ohms(100.0));
    add_relay_module(build, "module");
    add_board(build, "board");
    build.wires({"supply.+ -> plate.a", "plate.b -> supply.-", "supply.+ -> upside.-", "looped.a -> looped.b",
                 "beside.in -> beside.out", "supply.+ -> buzzer.COM", "buzzer.NC -> buzzer.1", "buzzer.2 -> supply.-",
                 "supply.+ -> own.COM", "own.NO -> own.1", "own.2 -> supply.-", "supply.+ -> module.A",
                 "module.B -> board.5V", "board.GND -> supply.-", "board.IO1 -> module.IN", "supply.+ -> supply.-"});
    const Studied studied(build);
    EXPECT_EQ(studied.study.outcomes.size(), studied.cases.size());
    EXPECT_GT(studied.cases.size(), 30U);
}

} // namespace
} // namespace trivet
