#include "support/check_text.h"
#include "thermal/steady.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

namespace trivet::testing {
namespace {

// A plate of exactly 10 ohm at exactly 24 V, in a room of 20 °C, that loses 0.5 W/K; what is said of its parts and
// bodies beside that.
std::string plate(std::string_view heater = "", std::string_view more = "") {
    return fmt::format(R"(trivet = 1
wires = ["supply.+ -> fuse.in : 1.0mm2 silicone", "fuse.out -> cutoff.in : 1.0mm2 silicone", "cutoff.out -> plate.a : 1.0mm2 silicone",
         "plate.b -> supply.- : 1.0mm2 silicone"]
[build]
title = "Plate"
ambient = "20 °C"
[part.supply]
is = "supply-24v-5a"
voltage = "24 V"
basis = "measured"
[part.fuse]
is = "fuse-blade-4a"
resistance = "0 ohm"
basis = "measured"
[part.cutoff]
is = "thermal-link-dc-110c"
resistance = "0 ohm"
basis = "measured"
mounted_on = "slab"
[part.plate]
is = "heater-salvaged"
resistance = "10 ohm"
voltage = "24 V"
basis = "measured"
{}
[[body]]
name = "slab"
heated_by = ["plate"]
capacity = "200 J/K"
touchable = false
limit = "150 °C"
[[heat_path]]
from = "slab"
to = "ambient"
conductance = "0.5 W/K"
{})",
                       heater, more);
}

double stuck(const std::string& text, std::size_t body = 0) {
    Checked checked;
    check_text(checked, "plate.toml", text);
    const auto& bodies = checked.assessment.analysis->heat.bodies;
    return bodies.at(body).stuck.value ? in_celsius(*bodies[body].stuck.value) : std::nan("");
}

// Joule: 24 V on 10 ohm are 57.6 W, over 0.5 W/K that is 115.2 K. The wires state no length and take nothing.
TEST(HeatOfADesign, ComesFromItsCircuit) { EXPECT_NEAR(stuck(plate()), 135.2, 0.01); }

// P(T) = P20 / (1 + a x), loss G x: G x (1 + a x) = P20.
TEST(HeatOfADesign, FallsWithTheResistanceOfAHotHeater) {
    const double a = 0.004;
    const double rise = (-1.0 + std::sqrt(1.0 + 4.0 * a * 57.6 / 0.5)) / (2.0 * a);
    EXPECT_NEAR(stuck(plate("temperature_coefficient = \"0.004 1/K\"")), 20.0 + rise, 0.01);
}

// P (limit - T)/40 K = G (T - room) above limit - 40 K.
TEST(HeatOfADesign, EndsWhereACeramicLimitsItself) {
    const double slope = 57.6 / 40.0;
    EXPECT_NEAR(stuck(plate("self_limit = \"100 °C\"")), (slope * 100.0 + 0.5 * 20.0) / (slope + 0.5), 0.01);
}

// A link of 50 mohm warms its own body with I²R, 24 V over 10.05 ohm being the current.
TEST(HeatOfADesign, CountsTheLossesOfOtherParts) {
    std::string text = plate("", R"([[body]]
name = "bracket"
heated_by = ["cutoff"]
capacity = "20 J/K"
touchable = false
limit = "150 °C"
[[heat_path]]
from = "bracket"
to = "ambient"
conductance = "0.01 W/K")");
    const auto at = text.find("is = \"thermal-link-dc-110c\"\nresistance = \"0 ohm\"");
    ASSERT_NE(at, std::string::npos);
    text.replace(text.find("0 ohm", at), 5, "50 mohm");
    const double amperes = 24.0 / 10.05;
    EXPECT_NEAR(stuck(text, 1), 20.0 + amperes * amperes * 0.05 / 0.01, 0.05);
}

TEST(HeatOfADesign, IsUnknownWhereTheHeaterIs) {
    std::string text = plate();
    text.replace(text.find("resistance = \"10 ohm\"\n"), 22, "");
    EXPECT_TRUE(std::isnan(stuck(text)));
}

// First law: with everything on, what the sources give is what the room takes, in every situation of every example;
// and no situation is hotter than the study says.
TEST(HeatOfTheExamples, IsBalancedAndBounded) {
    std::size_t bodies = 0;
    for (const auto& entry : std::filesystem::directory_iterator(TRIVET_SOURCE_DIR "/examples")) {
        if (entry.path().extension() != ".toml") continue;
        Checked checked;
        check_file(checked, entry.path().string());
        const Analysis& analysis = *checked.assessment.analysis;
        EXPECT_TRUE(analysis.heat.described) << entry.path() << " describes no bodies";
        EXPECT_TRUE(analysis.heat.missing_steady.empty() && analysis.heat.missing_in_time.empty()) << entry.path();
        for (const Situation& situation : analysis.heat.situations) {
            const ThermalNetwork network =
                heat_network(checked.design, analysis.heat_inputs, situation, HeatExtreme::hot);
            const std::vector<double> on(network.sources.size(), 1.0);
            const auto steady = steady_temperatures(network, on);
            ASSERT_TRUE(steady) << entry.path() << ": " << situation.text;
            double given = 0.0;
            double lost = 0.0;
            for (const HeatSource& source : network.sources)
                given += source_power(source, (*steady)[source.body]).power.si;
            for (const HeatLink& link : network.links)
                if (link.to == room) lost += heat_flow(link, (*steady)[link.from], network.ambient).power.si;
            EXPECT_NEAR(given, lost, 1e-6 * given) << entry.path() << ": " << situation.text;
            for (std::size_t i = 0; i < steady->size(); ++i)
                EXPECT_LE((*steady)[i].si, analysis.heat.bodies[i].stuck.value->si + 1e-6)
                    << entry.path() << ": " << situation.text;
            bodies += steady->size();
        }
    }
    EXPECT_GE(bodies, 10U);
}

} // namespace
} // namespace trivet::testing
