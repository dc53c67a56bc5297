#include "thermal/heat_curve.h"

#include "thermal/curve_read.h"
#include "thermal/curve_span.h"

#include <gtest/gtest.h>

#include <cmath>

namespace trivet {
namespace {

template <Dimension D> Stated<Range<D>> exactly_stated(double value) { return {{{value}, {value}}, {}}; }

// One body of 200 J/K that loses 0.5 W/K and is heated with 60 W: everything about it has a closed form (first-order
// lumped model, Incropera et al., chapter 5). Parts: heater, sensor, link, relay.
constexpr double capacity = 200.0;
constexpr double loss = 0.5;
constexpr double power = 60.0;
constexpr double room_celsius = 20.0;
constexpr double rest_celsius = room_celsius + power / loss;

double after(double seconds) {
    return rest_celsius + (room_celsius - rest_celsius) * std::exp(-seconds * loss / capacity);
}
double time_to(double celsius_above) {
    return capacity / loss * std::log((rest_celsius - room_celsius) / (rest_celsius - celsius_above));
}

Design plate_design() {
    Design design;
    design.ambient = {exactly(celsius(room_celsius)), {}};
    for (const auto* name : {"plate", "probe", "link", "relay"}) {
        PartUse use;
        use.name = name;
        use.part = std::make_shared<Part>();
        if (use.name != "relay") use.on_body = BodyId{0};
        design.parts.push_back(use);
    }
    Body body;
    body.name = "plate";
    body.heated_by = {PartId{0}};
    body.capacity = exactly_stated<dim::heat_capacity>(capacity);
    body.limit = exactly_stated<dim::temperature>(celsius(90.0).si);
    design.bodies.push_back(body);
    HeatPath path;
    path.from = "plate";
    path.to = "ambient";
    path.conductance = exactly_stated<dim::thermal_conductance>(loss);
    design.heat_paths.push_back(path);
    Control control;
    control.name = "hold";
    control.drives = {PartId{3}};
    design.controls.push_back(control);
    return design;
}

HeatInputs plate_inputs() {
    HeatInputs inputs;
    PartHeat heater;
    heater.part = {0};
    heater.power = exactly(Power{power});
    heater.reference = celsius(20.0);
    heater.is_heater = true;
    heater.control = 0;
    heater.cutoffs = {0};
    inputs.parts.push_back(heater);
    HeatControl control;
    control.name = "hold";
    control.of_design = 0;
    control.sensor = PartId{1};
    control.senses = BodyId{0};
    control.setpoint = exactly(celsius(70.0));
    control.band = {4.0};
    inputs.controls.push_back(control);
    HeatCutoff link;
    link.part = {2};
    link.body = BodyId{0};
    link.trip = Range<dim::temperature>{celsius(100.0), celsius(110.0)};
    inputs.cutoffs.push_back(link);
    return inputs;
}

CurveChoice normal_choice() {
    CurveChoice choice;
    choice.situation = situations(plate_design(), plate_inputs()).front();
    return choice;
}

CurveChoice stuck_choice() {
    CurveChoice choice = normal_choice();
    choice.stuck = PartId{3};
    return choice;
}

TEST(HeatCurve, FollowsTheExponentialAtEveryMoment) {
    CurveChoice choice = stuck_choice();
    choice.with_cutoffs = false;
    const HeatCurve curve = heat_curve(plate_design(), plate_inputs(), choice);
    ASSERT_EQ(curve.temperatures.size(), curve.times.size());
    for (std::size_t i = 0; i < curve.times.size(); ++i)
        ASSERT_NEAR(in_celsius(curve.temperatures[i]), after(curve.times[i].si), 1e-3) << curve.times[i].si;
    EXPECT_TRUE(curve.runaway);
    EXPECT_TRUE(curve.still_heats);
    ASSERT_TRUE(curve.settled.has_value());
    EXPECT_NEAR(curve.settled->si, time_to(rest_celsius - 0.5), 20.0);
    EXPECT_NEAR(in_celsius(curve.bodies[0].highest_settled), rest_celsius, 0.05);
    ASSERT_TRUE(curve.bodies[0].passes_limit.has_value());
    EXPECT_NEAR(curve.bodies[0].passes_limit->si, time_to(90.0), 0.2);
    EXPECT_GT(curve.times.back().si, curve.settled->si) << "all of the way there is shown";
}

TEST(HeatCurve, CutoffEndsARunawayAtItsHighestTripTemperature) {
    const HeatCurve curve = heat_curve(plate_design(), plate_inputs(), stuck_choice());
    EXPECT_EQ(curve.stuck, "relay");
    EXPECT_FALSE(curve.still_heats);
    ASSERT_TRUE(curve.cutoffs[0].opened.has_value());
    EXPECT_NEAR(curve.cutoffs[0].opened->si, time_to(110.0), 0.01);
    EXPECT_NEAR(in_celsius(curve.bodies[0].highest), 110.0, 1e-3);
    EXPECT_EQ(curve.cutoffs[0].openings, 1U);
    double seconds = 0.0;
    for (const double share : curve.heaters[0].on) seconds += share * curve.step.si;
    EXPECT_NEAR(seconds, time_to(110.0), 0.01);
    EXPECT_GT(curve.times.back().si, time_to(110.0));
    EXPECT_LT(curve.times.back().si, 3.0 * time_to(110.0)) << "cooling is not shown to its end";
}

// Closed form of a two-point cycle between 68 °C and 72 °C.
TEST(HeatCurve, ControlCyclesAsInClosedForm) {
    const HeatCurve curve = heat_curve(plate_design(), plate_inputs(), normal_choice());
    const double on = time_to(72.0) - time_to(68.0);
    const double off = capacity / loss * std::log((72.0 - room_celsius) / (68.0 - room_celsius));
    const CurveControl& control = curve.controls[0];
    EXPECT_FALSE(curve.runaway);
    ASSERT_TRUE(control.cycle.has_value());
    EXPECT_NEAR(control.cycle->si, on + off, 0.01);
    EXPECT_NEAR(control.duty, on / (on + off), 1e-4);
    ASSERT_TRUE(control.reached.has_value());
    EXPECT_NEAR(control.reached->si, time_to(70.0), 0.1);
    EXPECT_NEAR(in_celsius(curve.bodies[0].highest), 72.0, 1e-3);
    EXPECT_NEAR(curve.bodies[0].highest_at.si, time_to(72.0), 1.0) << "the first of many alike peaks";
    EXPECT_GE(curve.times.back().si, time_to(72.0) + 3.0 * (on + off)) << "a few cycles are shown";
    EXPECT_FALSE(curve.cutoffs[0].opened.has_value());
}

TEST(HeatCurve, InNormalRunningTheLowestTripTemperatureCounts) {
    HeatInputs inputs = plate_inputs();
    inputs.cutoffs[0].trip = Range<dim::temperature>{celsius(71.0), celsius(81.0)};
    const HeatCurve curve = heat_curve(plate_design(), inputs, normal_choice());
    ASSERT_TRUE(curve.cutoffs[0].opened.has_value());
    EXPECT_NEAR(curve.cutoffs[0].opened->si, time_to(71.0), 0.01);
}

TEST(HeatCurve, ACutoffThatClosesAgainGoesOnForEver) {
    HeatInputs inputs = plate_inputs();
    inputs.cutoffs[0].resets_itself = true;
    inputs.cutoffs[0].reset = Range<dim::temperature>{celsius(80.0), celsius(90.0)};
    const HeatCurve curve = heat_curve(plate_design(), inputs, stuck_choice());
    EXPECT_TRUE(curve.still_heats);
    EXPECT_TRUE(curve.cutoffs[0].closes_again);
    EXPECT_GE(curve.cutoffs[0].openings, 3U);
    EXPECT_NEAR(in_celsius(curve.bodies[0].highest_settled), 110.0, 0.5);
    EXPECT_NEAR(in_celsius(curve.bodies[0].lowest_settled), 90.0, 0.5);
}

TEST(HeatCurve, ADetachedSensorHeatsWithoutEnd) {
    CurveChoice choice = normal_choice();
    choice.situation = situations(plate_design(), plate_inputs()).back();
    ASSERT_EQ(choice.situation.text, "probe off its place");
    const HeatCurve curve = heat_curve(plate_design(), plate_inputs(), choice);
    EXPECT_TRUE(curve.runaway);
    EXPECT_TRUE(curve.controls[0].feels_room);
    EXPECT_FALSE(curve.still_heats) << "the link opens";
}

TEST(HeatCurve, ProportionalControlHoldsItsSetpoint) {
    HeatInputs inputs = plate_inputs();
    inputs.controls[0].proportional = true;
    inputs.controls[0].band = {};
    const HeatCurve curve = heat_curve(plate_design(), inputs, normal_choice());
    EXPECT_NEAR(in_celsius(curve.bodies[0].highest), 70.0, 0.3);
    EXPECT_NEAR(curve.controls[0].duty, (70.0 - room_celsius) * loss / power, 0.01);
    EXPECT_FALSE(curve.gave_up.has_value());
}

TEST(HeatCurve, ShowsTheTimeAskedFor) {
    CurveChoice choice = stuck_choice();
    choice.span = Time{100.0};
    const HeatCurve curve = heat_curve(plate_design(), plate_inputs(), choice);
    EXPECT_DOUBLE_EQ(curve.times.back().si, 100.0);
    EXPECT_NEAR(in_celsius(curve.bodies[0].end), after(100.0), 1e-3);
    ASSERT_TRUE(curve.cutoffs[0].opened.has_value()) << "what comes after the time shown is told, too";
    EXPECT_NEAR(curve.cutoffs[0].opened->si, time_to(110.0), 0.01);
}

TEST(HeatCurve, KnowsWhichSwitchesAControlDrives) {
    const Design design = plate_design();
    EXPECT_EQ(controls_of_switch(design, plate_inputs(), {3}), std::vector<std::uint32_t>{0});
    EXPECT_TRUE(controls_of_switch(design, plate_inputs(), {0}).empty());
    HeatInputs inputs = plate_inputs();
    inputs.controls[0].of_design.reset();
    inputs.controls[0].thermostat = PartId{2};
    EXPECT_EQ(controls_of_switch(design, inputs, {2}), std::vector<std::uint32_t>{0});
}

TEST(CurveSpan, GridStepsAreRoundAndNotTooMany) {
    for (const double span : {30.0, 60.0, 600.0, 3600.0, 9000.0, 86400.0, 259200.0, 2592000.0}) {
        const double steps = span / grid_step({span}).si;
        EXPECT_LE(steps, 1500.0) << span;
        EXPECT_GE(steps, 240.0) << span;
    }
}

} // namespace
} // namespace trivet
