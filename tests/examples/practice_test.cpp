#include "support/check_text.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace trivet::testing {
namespace {

// A heater that takes exactly 2.4 A from a stiff 24 V supply rated 3 A, and what is added to it.
std::string with(std::string_view wires, std::string_view parts) {
    return fmt::format(R"(trivet = 1
wires = ["supply.+ -> fuse.in : 1.0mm2 pvc", "fuse.out -> cutoff.in : 1.0mm2 pvc", "cutoff.out -> plate.a : 1.0mm2 pvc",
         "plate.b -> supply.- : 1.0mm2 pvc", {}]
[build]
title = "Practice"
ambient = "20 °C"
[part.supply]
is = "supply-24v-3a"
voltage = "24 V"
basis = "measured"
[part.fuse]
is = "fuse-blade-3a"
resistance = "0 ohm"
basis = "measured"
[part.cutoff]
is = "thermal-link-dc-128c"
resistance = "0 ohm"
basis = "measured"
[part.plate]
is = "heater-plate-24v-60w"
resistance = "10 ohm"
temperature_coefficient = "0 1/K"
basis = "measured"
{})",
                       wires, parts);
}

double number(const Checked& checked, const Finding& finding, std::string_view name) {
    for (const Evidence& evidence : finding.evidence)
        if (evidence.name == name && evidence.quantity) return evidence.quantity->si;
    ADD_FAILURE() << name << " is no number of " << finding.rule->name << " in " << checked.design.title;
    return 0.0;
}

// Common practice, no source: a supply carries 80 % of its rating for hours. 3 A x 0.8 = 2.4 A.
TEST(Practice, AHeaterOfTwoPointFourAmperesSitsExactlyAtEightyPercentOfThree) {
    Checked checked;
    check_text(checked, "practice.toml", with("", ""));
    const Finding* finding = find(checked, "supply-continuous-load", "supply");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->verdict, Verdict::pass);
    // Joints without resistance count as a micro-ohm each in the solver.
    EXPECT_NEAR(number(checked, *finding, "current"), 2.4, 1e-5);
    EXPECT_NEAR(*finding->margin, 1.0, 1e-5);
}

TEST(Practice, AFanAndAConverterOnTopBreakIt) {
    Checked checked;
    check_text(checked, "practice.toml",
               with(R"("supply.+ -> fan.+ : 1.0mm2 pvc", "fan.- -> supply.- : 1.0mm2 pvc",
                    "supply.+ -> buck.IN+ : 1.0mm2 pvc", "buck.IN- -> supply.- : 1.0mm2 pvc",
                    "buck.OUT+ -> board.5V : 1.0mm2 pvc", "buck.OUT- -> board.GND : 1.0mm2 pvc")",
                    R"([part.fan]
is = "fan-24v-80mm"
[part.buck]
is = "converter-buck-3a"
output = "5 V"
[part.board]
is = "controller-3v3-wifi")"));
    const Finding* finding = find(checked, "supply-continuous-load", "supply");
    ASSERT_NE(finding, nullptr);
    EXPECT_EQ(finding->verdict, Verdict::fail);
    EXPECT_LT(*finding->margin, 1.0);
}

// The current of a linear regulator's input is its output current plus its own; a step-down converter's input power is
// its output power over its efficiency (textbook). 5 V, 0.3 A + 11 mA at most, over 0.75: 87 mA from 24 V, plus 15 mA.
TEST(Practice, TheConvertersShareOfTheSupplyCurrentIsItsPower) {
    Checked checked;
    check_text(checked, "practice.toml",
               with(R"("supply.+ -> buck.IN+ : 1.0mm2 pvc", "buck.IN- -> supply.- : 1.0mm2 pvc",
                    "buck.OUT+ -> board.5V : 1.0mm2 pvc", "buck.OUT- -> board.GND : 1.0mm2 pvc")",
                    R"([part.buck]
is = "converter-buck-3a"
output = "5 V"
[part.board]
is = "controller-3v3-wifi")"));
    const Finding* finding = find(checked, "supply-continuous-load", "supply");
    ASSERT_NE(finding, nullptr);
    const double expected = 2.4 + 5.0 * (0.3 + 0.011) / (0.75 * 24.0) + 0.015;
    EXPECT_NEAR(number(checked, *finding, "current"), expected, 1e-4);
}

} // namespace
} // namespace trivet::testing
