#include "protection/return_detours.h"

#include "protection/bench_parts.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

// Currents are checked against Ohm's law by hand: 24 V over 10 ohm is 2.4 A.

std::string text(const ReturnDetour& detour, const DesignBuilder& build, const Circuit& circuit) {
    std::string line = build.design().wire(detour.opened).name + " off:";
    for (const Detour& d : detour.detours) {
        char amperes[64];
        std::snprintf(amperes, sizeof amperes, " %.1f to %.1f A", d.before, d.after);
        line += " " + names_of({d.branch}, circuit, build) + amperes;
    }
    return line;
}

std::vector<std::string> detours(const DesignBuilder& build) {
    const Circuit circuit = circuit_of(build);
    std::vector<std::string> lines;
    for (const ReturnDetour& detour : return_detours(circuit)) lines.push_back(text(detour, build, circuit));
    return lines;
}

// The module's ground goes to the supply and, with the signal, to the board; the board's to the supply too.
DesignBuilder two_grounds(bool module_has_ground) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.part("module", {"OUT", "GND", "S"},
               {ConductorElement{ends(0, 1), ohms(0.0), {}}, ConductorElement{ends(1, 2), {}, {}}});
    build.part("board", {"GND"}, {});
    build.wire("supply.+ -> plate.a", 1.0, 1.0);
    build.wire("plate.b -> module.OUT", 1.0, 1.0);
    build.wire("board.GND -> supply.-", 1.0, 1.0);
    if (module_has_ground) build.wire("module.GND -> supply.-", 0.01, 6.0);
    build.wire("module.S -> board.GND", 1.0, 0.5);
    return build;
}

TEST(ReturnDetours, HeaterCurrentGoesOverTheSignalsGroundWhenTheReturnIsOff) {
    const auto lines = detours(two_grounds(true));
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines.front(), "W4 off: W3 0.0 to 2.4 A W5 0.0 to 2.4 A");
}

TEST(ReturnDetours, WithoutAnotherWayNothingFlows) { EXPECT_TRUE(detours(two_grounds(false)).empty()); }

// The plate has a return of its own; only the coil's current finds its way over the board.
TEST(ReturnDetours, AnotherLoadsReturnIsNoneOfTheHeater) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.part("module", {"VCC", "GND"}, {ResistorElement{ends(0, 1), ohms(60.0), {}}});
    build.part("board", {"GND"}, {});
    build.wire("supply.+ -> plate.a", 1.0, 1.0);
    build.wire("plate.b -> supply.-", 1.0, 1.0);
    build.wire("supply.+ -> module.VCC", 1.0, 1.0);
    build.wire("module.GND -> supply.-", 0.01, 6.0);
    build.wire("module.GND -> board.GND", 1.0, 0.5);
    build.wire("board.GND -> supply.-", 1.0, 0.5);
    EXPECT_TRUE(detours(build).empty());
}

TEST(ReturnDetours, ASecondSupplysGroundCountsToo) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.supply("usb", volts(5.0));
    build.heater("plate", ohms(10.0));
    add_board(build, "board");
    build.wire("supply.+ -> plate.a", 0.01, 6.0);
    build.wire("plate.b -> board.GND", 0.01, 6.0);
    build.wire("board.GND -> supply.-", 0.01, 6.0);
    build.wire("usb.+ -> board.5V", 1.0, 0.5);
    build.wire("usb.- -> board.GND", 1.0, 0.5);
    build.wire("usb.- -> supply.-", 1.0, 0.5);
    const auto lines = detours(build);
    ASSERT_FALSE(lines.empty());
    EXPECT_EQ(lines.front(), "W3 off: W5 0.1 to 2.5 A W6 0.0 to 2.4 A");
}

} // namespace
} // namespace trivet
