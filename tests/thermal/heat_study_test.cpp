#include "thermal/heat_study.h"

#include <gtest/gtest.h>

#include <cmath>

namespace trivet {
namespace {

// One plate on a controlled heater with a link on it: everything about it has a closed form (first-order lumped model,
// Incropera et al., chapter 5).
struct Plate {
    double capacity_low = 200.0; // J/K
    double capacity_high = 250.0;
    double loss_low = 0.4; // W/K
    double loss_high = 0.5;
    double watts_low = 50.0;
    double watts_high = 60.0;
    double setpoint = 70.0; // °C
    double band = 4.0;      // K
    double room_low = 10.0;
    double room_high = 30.0;
    double trip_low = 100.0;
    double trip_high = 110.0;
    double limit = 150.0;
};

template <Dimension D> Stated<Range<D>> stated(double lo, double hi) { return {{{lo}, {hi}}, {}}; }

Design design_of(const Plate& plate) {
    Design design;
    design.ambient = {{celsius(plate.room_low), celsius(plate.room_high)}, {}};
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
    body.capacity = stated<dim::heat_capacity>(plate.capacity_low, plate.capacity_high);
    body.limit = stated<dim::temperature>(celsius(plate.limit).si, celsius(plate.limit).si);
    design.bodies.push_back(body);
    HeatPath path;
    path.from = "plate";
    path.to = "ambient";
    path.conductance = stated<dim::thermal_conductance>(plate.loss_low, plate.loss_high);
    design.heat_paths.push_back(path);
    return design;
}

HeatInputs inputs_of(const Plate& plate) {
    HeatInputs inputs;
    PartHeat heater;
    heater.part = {0};
    heater.power = {{plate.watts_low}, {plate.watts_high}};
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
    control.setpoint = exactly(celsius(plate.setpoint));
    control.band = {plate.band};
    inputs.controls.push_back(control);
    HeatCutoff link;
    link.part = {2};
    link.body = BodyId{0};
    link.trip = Range<dim::temperature>{celsius(plate.trip_low), celsius(plate.trip_high)};
    inputs.cutoffs.push_back(link);
    return inputs;
}

HeatStudy study(const Plate& plate) { return study_heat(design_of(plate), inputs_of(plate)); }

double degrees(const Hottest& hottest) { return hottest.value ? in_celsius(*hottest.value) : std::nan(""); }

TEST(HeatStudy, StuckTemperatureIsRoomPlusPowerOverLoss) {
    const Plate plate;
    EXPECT_NEAR(degrees(study(plate).bodies[0].stuck), plate.room_high + plate.watts_high / plate.loss_low, 1e-6);
}

TEST(HeatStudy, NormalMaximumIsTheUpperThreshold) {
    const Plate plate;
    EXPECT_NEAR(degrees(study(plate).bodies[0].normal), plate.setpoint + 0.5 * plate.band, 1e-3);
}

TEST(HeatStudy, CutoffWithoutLagStopsAtItsHighestTripTemperature) {
    const Plate plate;
    EXPECT_NEAR(degrees(study(plate).bodies[0].guarded), plate.trip_high, 0.02);
}

TEST(HeatStudy, WindowOfASingleBodyEndsAtItsLimit) {
    const Plate plate;
    const CutoffHeat cutoff = study(plate).cutoffs[0];
    ASSERT_TRUE(cutoff.highest_safe.has_value());
    EXPECT_TRUE(cutoff.can_be_safe);
    EXPECT_NEAR(in_celsius(*cutoff.highest_safe), plate.limit, 0.3);
    EXPECT_EQ(cutoff.closed_by, "the limit of plate");
    EXPECT_NEAR(degrees(cutoff.stuck), 180.0, 1e-6);
}

TEST(HeatStudy, EveryTripTemperatureIsSafeWhereTheFaultIsHarmless) {
    Plate plate;
    plate.limit = 181.0;
    const CutoffHeat cutoff = study(plate).cutoffs[0];
    EXPECT_FALSE(cutoff.highest_safe.has_value());
    EXPECT_TRUE(cutoff.can_be_safe);
}

// Common practice, no source: a bare 60 W plate of the 24 V class passes 130 °C, ends near 160 °C with no limit, and is
// usually held at or under 100 °C. 0.45 W/K stands for its surface (convection_test has it from the correlations).
TEST(HeatStudy, ABarePlateOfTheTrade) {
    Plate plate;
    plate.loss_low = plate.loss_high = 0.45;
    plate.watts_low = plate.watts_high = 60.0;
    plate.room_low = plate.room_high = 22.0;
    plate.setpoint = 98.0;
    const HeatStudy heat = study(plate);
    EXPECT_GT(degrees(heat.bodies[0].stuck), 130.0);
    EXPECT_NEAR(degrees(heat.bodies[0].stuck), 160.0, 10.0);
    EXPECT_TRUE(heat.controls[0].reaches);
    EXPECT_LE(degrees(heat.bodies[0].normal), 100.0 + 1e-3);
}

TEST(HeatStudy, WindowIsEmptyWhenNormalRunningPassesTheLimit) {
    Plate plate;
    plate.limit = 60.0;
    EXPECT_FALSE(study(plate).cutoffs[0].can_be_safe);
}

// t = tau ln((T_end - T_start)/(T_end - T)) from the mean of normal running.
TEST(HeatStudy, OperatingTimeFollowsTheExponential) {
    const Plate plate;
    const double tau = plate.capacity_low / plate.loss_low;
    const double end = plate.room_high + plate.watts_high / plate.loss_low;
    const CutoffHeat cutoff = study(plate).cutoffs[0];
    ASSERT_TRUE(cutoff.operating_time.has_value());
    EXPECT_NEAR(cutoff.operating_time->si, tau * std::log((end - plate.setpoint) / (end - plate.trip_high)), 0.01);
}

TEST(HeatStudy, TimeToSetpointAtTheColdExtreme) {
    const Plate plate;
    const double tau = plate.capacity_high / plate.loss_high;
    const double rise = plate.watts_low / plate.loss_high;
    const ControlHeat control = study(plate).controls[0];
    ASSERT_TRUE(control.time_to_setpoint.has_value());
    EXPECT_TRUE(control.reaches);
    EXPECT_NEAR(control.time_to_setpoint->si, tau * std::log(rise / (plate.room_low + rise - plate.setpoint)), 0.01);
    EXPECT_NEAR(control.duty_cold, (plate.setpoint - plate.room_low) / rise, 1e-4);
}

TEST(HeatStudy, TooWeakAHeaterNeverReachesTheSetpoint) {
    Plate plate;
    plate.watts_low = 29.0; // 58 K above 10 °C
    EXPECT_FALSE(study(plate).controls[0].reaches);
}

// A narrow band b: period = b C (1/(P - L) + 1/L), shortest where the loss L is half of the power P. Here that is met
// at the cold end (30 W of 60 W); the exact exponentials then give equal times on and off.
TEST(HeatStudy, OperationsPerHourAreTakenWhereTheyAreMost) {
    const Plate plate;
    const double tau = plate.capacity_low / plate.loss_high;
    const double rise = plate.watts_high / plate.loss_high;
    const double half = tau * std::log((0.5 * rise + 0.5 * plate.band) / (0.5 * rise - 0.5 * plate.band));
    const ControlHeat control = study(plate).controls[0];
    EXPECT_NEAR(control.operations_per_hour, 3600.0 / (2.0 * half), 0.002 * control.operations_per_hour);
    EXPECT_NEAR(control.band_held.si, plate.band, 1e-3);
}

// Colder still, the duty passes a half on the way: the same most occurs in a room of 10 °C.
TEST(HeatStudy, TheRoomOfMostOperationsLiesBetween) {
    Plate plate;
    plate.room_low = -10.0;
    const double tau = plate.capacity_low / plate.loss_high;
    const double half = tau * std::log((60.0 + 2.0) / (60.0 - 2.0));
    EXPECT_NEAR(study(plate).controls[0].operations_per_hour, 3600.0 / (2.0 * half), 0.05);
}

// A tonne of water behind the plate hardly moves in the first steps of a run; it still gets there in the end.
TEST(HeatStudy, SlowBodiesAreFollowedToTheEnd) {
    Plate plate;
    plate.capacity_low = plate.capacity_high = 4.186e6;
    plate.trip_low = plate.trip_high = 71.5;
    plate.limit = 72.0;
    const CutoffHeat cutoff = study(plate).cutoffs[0];
    const double tau = plate.capacity_low / plate.loss_low;
    ASSERT_TRUE(cutoff.operating_time.has_value());
    EXPECT_NEAR(cutoff.operating_time->si, tau * std::log(110.0 / (180.0 - 71.5)), 1.0);
}

TEST(HeatStudy, ACoverKeepsAQuarterOfTheLoss) {
    Plate plate;
    Design design = design_of(plate);
    design.bodies[0].may_be_covered = true;
    const HeatStudy heat = study_heat(design, inputs_of(plate));
    ASSERT_EQ(heat.situations.size(), 3U); // normal, covered, probe off
    EXPECT_NEAR(degrees(heat.bodies[0].stuck), 30.0 + 60.0 / 0.1, 1e-6);
    EXPECT_EQ(heat.situations[heat.bodies[0].stuck.situation].text, "plate covered");
    EXPECT_NEAR(degrees(heat.bodies[0].guarded), 110.0, 0.02) << "the link does not care";
}

TEST(HeatStudy, SelfResettingCutoffCyclesBetweenItsTemperatures) {
    const Plate plate;
    HeatInputs inputs = inputs_of(plate);
    inputs.cutoffs[0].trip = exactly(celsius(110.0));
    inputs.cutoffs[0].reset = exactly(celsius(90.0));
    inputs.cutoffs[0].resets_itself = true;
    const CutoffHeat cutoff = study_heat(design_of(plate), inputs).cutoffs[0];
    const double tau = plate.capacity_low / plate.loss_low;
    const double up = tau * std::log((180.0 - 90.0) / (180.0 - 110.0));
    const double down = tau * std::log((110.0 - 30.0) / (90.0 - 30.0));
    ASSERT_TRUE(cutoff.cycle.has_value());
    EXPECT_NEAR(cutoff.cycle->si, up + down, 0.01);
}

TEST(HeatStudy, LeftOpenNumbersAreNamed) {
    Plate plate;
    Design design = design_of(plate);
    design.heat_paths[0].conductance.reset();
    const HeatStudy heat = study_heat(design, inputs_of(plate));
    ASSERT_EQ(heat.missing_steady.size(), 1U);
    EXPECT_NE(heat.missing_steady[0].find("plate to ambient"), std::string::npos);
    EXPECT_FALSE(heat.bodies[0].stuck.value.has_value());
}

TEST(HeatStudy, WithoutACapacityOnlyTheSteadyTemperaturesAreKnown) {
    Plate plate;
    Design design = design_of(plate);
    design.bodies[0].capacity.reset();
    const HeatStudy heat = study_heat(design, inputs_of(plate));
    EXPECT_FALSE(heat.missing_in_time.empty());
    EXPECT_NEAR(degrees(heat.bodies[0].stuck), 180.0, 1e-6);
    EXPECT_FALSE(heat.bodies[0].normal.value.has_value()) << "a control swings between its thresholds";
    EXPECT_FALSE(heat.bodies[0].guarded.value.has_value());
}

// 50 °C uncovered, which no link notices; 110 °C under a cover, where the afterheat of the link counts.
TEST(HeatStudy, WhatOneSituationLeavesOpenIsOpen) {
    Plate plate;
    plate.loss_low = plate.loss_high = 3.0;
    plate.trip_low = plate.trip_high = 90.0;
    Design design = design_of(plate);
    design.bodies[0].capacity.reset();
    EXPECT_NEAR(degrees(study_heat(design, inputs_of(plate)).bodies[0].guarded), 50.0, 1e-6);
    design.bodies[0].may_be_covered = true;
    const HeatStudy heat = study_heat(design, inputs_of(plate));
    EXPECT_NEAR(degrees(heat.bodies[0].stuck), 110.0, 1e-6);
    EXPECT_FALSE(heat.bodies[0].guarded.value.has_value());
}

TEST(HeatStudy, WhatSitsOnAnEmptiedPotKeepsItsNumbers) {
    Plate plate;
    Design design = design_of(plate);
    Body pot;
    pot.name = "pot";
    pot.may_be_empty = true;
    pot.capacity = stated<dim::heat_capacity>(800.0, 900.0);
    design.bodies.push_back(pot);
    HeatPath across;
    across.to_body = BodyId{1};
    across.conductance = stated<dim::thermal_conductance>(3.0, 3.0);
    design.heat_paths.push_back(across);
    HeatPath away;
    away.from_body = BodyId{1};
    away.conductance = stated<dim::thermal_conductance>(0.6, 0.6);
    design.heat_paths.push_back(away);
    const HeatStudy heat = study_heat(design, inputs_of(plate));
    EXPECT_NEAR(degrees(heat.bodies[0].stuck), 180.0, 1e-6) << "dry, the plate is on its own";
    EXPECT_EQ(heat.situations[heat.bodies[0].stuck.situation].text, "pot taken away");
    EXPECT_NEAR(degrees(heat.bodies[1].stuck), 30.0 + 60.0 * (3.0 / 3.6) / (0.4 + 3.0 * 0.6 / 3.6), 1e-4);
}

} // namespace
} // namespace trivet
