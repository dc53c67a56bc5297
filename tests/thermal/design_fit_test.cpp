#include "thermal/design_fit.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace trivet {
namespace {

constexpr double conductance = 2.0; // W/K, truth
constexpr double capacity = 5000.0; // J/K, truth

// A tray that a mat of 45 to 50 W heats; a second path is there only when the tray is taken away.
struct Tray {
    Tray() {
        design.ambient.value = exactly(celsius(20.0));
        PartUse mat;
        mat.name = "mat";
        PartUse relay;
        relay.name = "relay";
        design.parts = {mat, relay};
        Body tray;
        tray.name = "tray";
        tray.heated_by = {PartId{0}};
        design.bodies = {tray};
        HeatPath away;
        away.from = "tray";
        away.to = "ambient";
        away.without = BodyId{0};
        HeatPath path = away;
        path.without.reset();
        design.heat_paths = {away, path};
        Control control;
        control.name = "hold";
        control.drives = {PartId{1}};
        design.controls = {control};
        PartHeat heat;
        heat.part = PartId{0};
        heat.power = {{45.0}, {50.0}};
        heat.is_heater = true;
        heat.control = 0;
        inputs.parts = {heat};
        HeatControl controls;
        controls.name = "hold";
        controls.of_design = 0;
        inputs.controls = {controls};
    }

    Design design;
    HeatInputs inputs;
};

// Two hours at 47.5 W, then cooling, in closed form; a pattern of 0.1 K stands in for a thermometer's noise.
HeatLog warm_and_cool() {
    HeatLog log;
    log.bodies = {0};
    log.on.resize(1);
    double above = 0.0;
    for (int row = 0; row < 60; ++row) {
        const double end = row < 30 ? 47.5 / conductance : 0.0;
        log.times.push_back({row * 240.0});
        log.temperatures.push_back(celsius(20.0 + above + (row * 7 % 5 - 2) * 0.05));
        log.on[0].push_back(row < 30 ? 1.0 : 0.0);
        above = end + (above - end) * std::exp(-conductance * 240.0 / capacity);
    }
    return log;
}

TEST(DesignFit, OffersWhatTheDesignLeavesOpen) {
    const Tray tray;
    const std::vector<OpenParameter> open = open_parameters(tray.design);
    ASSERT_EQ(open.size(), 2U);
    EXPECT_EQ(open[0].name, "conductance from tray to ambient");
    EXPECT_EQ(open[0].index, 0U);
    EXPECT_EQ(path_of_link(tray.design, open[0].index), 1U); // the path before it is not there in a log
    EXPECT_EQ(open[1].name, "heat capacity of tray");
    EXPECT_TRUE(missing_for_fit(tray.design, tray.inputs).empty());
}

TEST(DesignFit, KnowsAHeaterByItsSwitchAndItsControl) {
    const Tray tray;
    const LogNames names = log_names(tray.design, tray.inputs);
    EXPECT_EQ(names.sources, std::vector<std::string>{"mat"});
    for (const char* name : {"mat", "relay", "hold"})
        EXPECT_NE(std::ranges::find(names.switches, name, &LogSwitch::name), names.switches.end()) << name;
    EXPECT_FALSE(names.needs_ambient);
    EXPECT_EQ(names.least_rows, 6U);
}

// Conductance and capacity are both proportional to the power, so ranges reach at least from 45/47.5 to 50/47.5.
TEST(DesignFit, CoversTheToleranceOfTheHeater) {
    const Tray tray;
    const FitResult result = fit_design(tray.design, tray.inputs, warm_and_cool());
    ASSERT_TRUE(result.undetermined.empty());
    ASSERT_EQ(result.parameters.size(), 2U);
    const double truths[] = {conductance, capacity};
    for (std::size_t i = 0; i < 2; ++i) {
        const FittedParameter& found = result.parameters[i];
        EXPECT_NEAR(found.value, truths[i], 0.01 * truths[i]);
        EXPECT_LE(found.lowest, 45.1 / 47.5 * truths[i]);
        EXPECT_GE(found.lowest, 44.0 / 47.5 * truths[i]);
        EXPECT_GE(found.highest, 49.9 / 47.5 * truths[i]);
        EXPECT_LE(found.highest, 51.0 / 47.5 * truths[i]);
    }
}

} // namespace
} // namespace trivet
