#include "thermal/network.h"

#include "thermal/steady.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace trivet {
namespace {

HeatLink conducts(double watts_per_kelvin) { return {0, room, Conducts{{watts_per_kelvin}}}; }

HeatLink surface(double area, double length, Facing facing, double emissivity) {
    return {0, room, Surface{{area}, {length}, facing, emissivity, {}, {}}};
}

double watts(const HeatLink& link, double from_celsius, double to_celsius) {
    return heat_flow(link, celsius(from_celsius), celsius(to_celsius)).power.si;
}

double radiated(double area, double emissivity, double from_celsius, double to_celsius) {
    return watts(surface(area, 1.0, Facing::vertical, emissivity), from_celsius, to_celsius) -
           watts(surface(area, 1.0, Facing::vertical, 0.0), from_celsius, to_celsius);
}

// Cengel, Heat Transfer, Example 1-5: concrete roof 6 m by 8 m, 0.25 m thick, k 0.8 W/(m K).
TEST(HeatFlow, RoofConducts) { EXPECT_NEAR(watts(conducts(0.8 * 48.0 / 0.25), 15.0, 4.0), 1690.0, 1.0); }

TEST(HeatFlow, RadiatesLikeTheTextbooks) {
    // Cengel Example 9-2: plate of 0.6 m by 0.6 m, black, 90 °C in 30 °C.
    EXPECT_NEAR(radiated(0.36, 1.0, 90.0, 30.0), 182.0, 1.0);
    // Cengel Example 9-1: pipe of 0.08 m, 6 m long, black, 70 °C in 20 °C.
    EXPECT_NEAR(radiated(std::numbers::pi * 0.08 * 6.0, 1.0, 70.0, 20.0), 553.0, 1.5);
    // Incropera Example 1.2: emitted 2270 W/m² less received 447 W/m² times 0.8.
    EXPECT_NEAR(radiated(1.0, 0.8, 200.0, 25.0), 0.8 * (2273.0 / 0.8 - 448.0), 0.01 * 1914.0);
}

// Incropera Example 1.2: pipe of 70 mm at 200 °C, emissivity 0.8, h 15 W/(m² K), room 25 °C: 998 W per metre.
TEST(HeatFlow, PipeLosesByConvectionAndRadiation) {
    const double area = std::numbers::pi * 0.07;
    EXPECT_NEAR(watts(conducts(15.0 * area), 200.0, 25.0) + radiated(area, 0.8, 200.0, 25.0), 998.0, 1.0);
}

TEST(HeatFlow, GoesFromWarmToColdEitherWay) {
    for (const Facing facing : {Facing::up, Facing::down, Facing::vertical, Facing::round}) {
        const HeatLink link = surface(0.02, 0.05, facing, 0.6);
        EXPECT_LT(watts(link, 5.0, 20.0), 0.0);
        EXPECT_GT(watts(link, 35.0, 20.0), 0.0);
        EXPECT_EQ(watts(link, 20.0, 20.0), 0.0);
    }
    // A vertical surface does not care which side is the warmer one.
    const HeatLink wall = surface(0.02, 0.05, Facing::vertical, 0.6);
    EXPECT_DOUBLE_EQ(watts(wall, 5.0, 20.0), -watts(wall, 20.0, 5.0));
}

TEST(HeatFlow, CarriesItsShare) {
    HeatLink link = surface(0.02, 0.05, Facing::up, 0.6);
    const Flow whole = heat_flow(link, celsius(80.0), celsius(20.0));
    link.share = 0.25;
    const Flow quarter = heat_flow(link, celsius(80.0), celsius(20.0));
    EXPECT_DOUBLE_EQ(quarter.power.si, 0.25 * whole.power.si);
    EXPECT_DOUBLE_EQ(quarter.by_from.si, 0.25 * whole.by_from.si);
    EXPECT_DOUBLE_EQ(quarter.by_to.si, 0.25 * whole.by_to.si);
}

// Central differences, also at equal temperatures, in the blend of two correlations and beyond the air table.
TEST(HeatFlow, DerivativesAreThoseOfTheFlow) {
    constexpr double h = 1e-5;
    for (const Facing facing : {Facing::up, Facing::down, Facing::vertical, Facing::round})
        for (const double length : {0.003, 0.05, 0.3, 2.0})
            for (const double air : {240.0, 290.0, 330.0})
                for (const double rise : {-60.0, -5.0, -0.05, 0.0, 0.03, 0.5, 7.0, 60.0, 500.0})
                    for (const double speed : {0.0, 2.0, 40.0}) {
                        const HeatLink link{0, room, Surface{{0.05}, {length}, facing, 0.3, {speed}, {length}}};
                        const auto flow = [&](double from, double to) { return heat_flow(link, {from}, {to}); };
                        const double hot = air + rise;
                        const double by_from = (flow(hot + h, air).power.si - flow(hot - h, air).power.si) / (2 * h);
                        const double by_to = (flow(hot, air + h).power.si - flow(hot, air - h).power.si) / (2 * h);
                        EXPECT_NEAR(flow(hot, air).by_from.si / by_from, 1.0, 1e-6) << length << ' ' << rise;
                        EXPECT_NEAR(flow(hot, air).by_to.si / by_to, 1.0, 1e-6) << length << ' ' << rise;
                        EXPECT_GT(by_from, 0.0);
                        EXPECT_LT(by_to, 0.0);
                    }
}

TEST(SourcePower, FollowsTheResistance) {
    // R = R0 (1 + a (T - T0)), P = V²/R: at 120 °C with 0.0039/K from 20 °C the power is 1/1.39.
    const HeatSource heater{0, {60.0}, {0.0039}, celsius(20.0), {}, {}};
    EXPECT_DOUBLE_EQ(source_power(heater, celsius(20.0)).power.si, 60.0);
    EXPECT_NEAR(source_power(heater, celsius(120.0)).power.si, 60.0 / 1.39, 1e-12);
    EXPECT_NEAR(source_power(heater, celsius(120.0)).by_temperature.si, -60.0 * 0.0039 / (1.39 * 1.39), 1e-12);
}

TEST(SourcePower, StopsAtATenthOfTheResistance) {
    const HeatSource falling{0, {60.0}, {-0.01}, celsius(20.0), {}, {}};
    for (const double beyond : {111.0, 120.0, 500.0}) {
        EXPECT_DOUBLE_EQ(source_power(falling, celsius(beyond)).power.si, 600.0);
        EXPECT_EQ(source_power(falling, celsius(beyond)).by_temperature.si, 0.0);
    }
    EXPECT_LT(source_power(falling, celsius(109.0)).power.si, 600.0);
}

// Cengel Example 1-1: copper ball of 0.1 m, 8950 kg/m³, 0.395 kJ/(kg K), from 100 to 150 °C takes 92.6 kJ.
TEST(HeatContent, CopperBall) {
    const double mass = 8950.0 * std::numbers::pi / 6.0 * 1e-3;
    const ThermalBody ball{"ball", {395.0 * mass}, {}};
    EXPECT_NEAR(heat_content(ball, celsius(150.0)).si - heat_content(ball, celsius(100.0)).si, 92.6e3, 100.0);
}

// Latent heat of ice 334 kJ/kg (from memory), melting spread over 1 K.
TEST(HeatContent, MeltingIsSpreadEvenly) {
    const ThermalBody ice{"ice", {2000.0}, Melting{celsius(-0.5), celsius(0.5), {334e3}}};
    const auto content = [&](double t) { return heat_content(ice, celsius(t)).si; };
    EXPECT_NEAR(content(0.5) - content(-0.5), 334e3 + 2000.0, 1e-6);
    EXPECT_NEAR(content(0.0), 0.0, 1e-9);
    EXPECT_NEAR(content(10.0) - content(0.5), 19e3, 1e-6);
    EXPECT_NEAR(content(-0.5) - content(-10.5), 20e3, 1e-6);
}

TEST(HeatContent, GoesThereAndBack) {
    const std::vector<ThermalBody> bodies{{"plain", {350.0}, {}},
                                          {"wax", {350.0}, Melting{celsius(56.0), celsius(62.0), {40e3}}},
                                          {"ice", {350.0}, Melting{celsius(-0.5), celsius(0.5), {40e3}}},
                                          {"brine", {350.0}, Melting{celsius(-21.0), celsius(-15.0), {40e3}}}};
    for (const ThermalBody& body : bodies) {
        double last = -1e9;
        for (double t = -40.0; t < 200.0; t += 0.25) {
            const Energy content = heat_content(body, celsius(t));
            EXPECT_GT(content.si, last) << body.name;
            EXPECT_NEAR(in_celsius(temperature_at(body, content)), t, 1e-9) << body.name;
            last = content.si;
        }
        EXPECT_NEAR(heat_content(body, celsius(0.0)).si, 0.0, 1e-9) << body.name;
    }
}

// Full power below the limit less the span, a straight line to nothing above: P (limit - T)/span = G (T - room) has the
// solution T = (P limit/span + G room)/(P/span + G).
TEST(SourcePower, FallsToNothingAtItsSelfLimit) {
    HeatSource source{0, {100.0}, {}, celsius(20.0), {}, {}};
    source.self_limit = celsius(180.0);
    EXPECT_DOUBLE_EQ(source_power(source, celsius(140.0)).power.si, 100.0);
    EXPECT_NEAR(source_power(source, celsius(160.0)).power.si, 50.0, 1e-9);
    EXPECT_NEAR(source_power(source, celsius(160.0)).by_temperature.si, -2.5, 1e-9);
    EXPECT_DOUBLE_EQ(source_power(source, celsius(181.0)).power.si, 0.0);
    ThermalNetwork network;
    network.bodies = {{.name = "element", .capacity = {100.0}, .melting = {}}};
    network.links = {{.from = 0, .to = room, .law = Conducts{{0.4}}, .share = 1.0}};
    network.sources = {source};
    network.ambient = celsius(20.0);
    const std::vector<double> on{1.0};
    const auto steady = steady_temperatures(network, on);
    ASSERT_TRUE(steady);
    EXPECT_NEAR(in_celsius(steady->front()), (100.0 / 40.0 * 180.0 + 0.4 * 20.0) / (100.0 / 40.0 + 0.4), 1e-6);
}

} // namespace
} // namespace trivet
