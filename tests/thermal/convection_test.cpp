#include "thermal/network.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

namespace trivet {
namespace {

// The textbooks read their air from slightly different tables, which is worth up to 2 %.
constexpr double tables_differ = 0.02;

double still(Facing facing, double length, double surface_celsius, double air_celsius) {
    return natural_convection(facing, {length}, celsius(surface_celsius), celsius(air_celsius));
}

double blown(double speed, double along, double surface_celsius, double air_celsius) {
    return forced_convection({speed}, {along}, celsius(surface_celsius), celsius(air_celsius));
}

TEST(NaturalConvection, TextbookLosses) {
    struct Case {
        const char* source;
        Facing facing;
        double length, area, surface, air, watts;
    };
    const std::vector<Case> cases{
        {"Cengel Example 9-2 a, plate 0.6 m by 0.6 m", Facing::vertical, 0.6, 0.36, 90, 30, 115},
        {"Cengel Example 9-2 b, hot side up", Facing::up, 0.15, 0.36, 90, 30, 128},
        {"Cengel Example 9-2 c, hot side down", Facing::down, 0.15, 0.36, 90, 30, 64.2},
        {"Cengel Example 9-1, horizontal pipe 0.08 m", Facing::round, 0.08, std::numbers::pi * 0.08 * 6, 70, 20, 443},
        {"Incropera Example 9.2, fire screen 0.71 m high", Facing::vertical, 0.71, 0.71 * 1.02, 232, 23, 1060},
        {"Holman Example 7-2, wall 4 m high, 10 m wide", Facing::vertical, 4.0, 40, 60, 10, 9603},
    };
    for (const Case& c : cases) {
        const double watts = still(c.facing, c.length, c.surface, c.air) * c.area * (c.surface - c.air);
        EXPECT_NEAR(watts / c.watts, 1.0, tables_differ) << c.source;
    }
}

// Incropera Example 9.3: duct 0.75 m wide, 0.3 m high, at 45 °C in 15 °C, loses 246 W per metre. The book takes
// eq. 9.27 for the sides, valid for laminar flow only; the form for all flows gives 15 % more there.
TEST(NaturalConvection, RectangularDuct) {
    const Air air = air_at(celsius(30));
    const double rayleigh =
        9.80665 * 30.0 * std::pow(0.3, 3) * air.prandtl / (std::pow(air.kinematic_viscosity, 2) * 303.15);
    const double laminar =
        0.68 + 0.670 * std::pow(rayleigh, 0.25) / std::pow(1.0 + std::pow(0.492 / air.prandtl, 9.0 / 16.0), 4.0 / 9.0);
    const double sides = laminar * air.conductivity / 0.3;
    const double top_and_bottom = 0.75 * (still(Facing::up, 0.375, 45, 15) + still(Facing::down, 0.375, 45, 15));
    EXPECT_NEAR((2.0 * 0.3 * sides + top_and_bottom) * 30.0, 246.0, tables_differ * 246.0);
    EXPECT_NEAR(still(Facing::vertical, 0.3, 45, 15) / sides, 1.15, 0.01);
}

// Cengel Table 9-1: the upper surface of a cold plate is like the lower surface of a hot one.
TEST(NaturalConvection, ColdPlatesSwapSides) {
    EXPECT_DOUBLE_EQ(still(Facing::up, 0.05, 10, 40), still(Facing::down, 0.05, 40, 10));
    EXPECT_DOUBLE_EQ(still(Facing::down, 0.05, 10, 40), still(Facing::up, 0.05, 40, 10));
    EXPECT_DOUBLE_EQ(still(Facing::round, 0.05, 10, 40), still(Facing::round, 0.05, 40, 10));
}

// Incropera equations 9.26 and 9.34 written out for the program's own air.
TEST(NaturalConvection, FollowsChurchillAndChu) {
    for (const double film : {250.0, 290.0, 340.0, 500.0, 690.0})
        for (const double length : {0.001, 0.05, 1.0}) {
            const Air air = air_at({film});
            const double rayleigh =
                9.80665 * 20.0 * std::pow(length, 3) * air.prandtl / (std::pow(air.kinematic_viscosity, 2) * film);
            const auto expected = [&](double base, double c) {
                const double f = std::pow(1.0 + std::pow(c / air.prandtl, 9.0 / 16.0), 8.0 / 27.0);
                return std::pow(base + 0.387 * std::pow(rayleigh, 1.0 / 6.0) / f, 2) * air.conductivity / length;
            };
            const auto h = [&](Facing facing) {
                return natural_convection(facing, {length}, {film + 10.0}, {film - 10.0});
            };
            EXPECT_NEAR(h(Facing::vertical) / expected(0.825, 0.492), 1.0, 2e-4);
            EXPECT_NEAR(h(Facing::round) / expected(0.60, 0.559), 1.0, 2e-4);
        }
}

// Losses grow with the difference, without a step, from a thousandth of a kelvin through all changes of correlation.
TEST(NaturalConvection, GrowsWithoutSteps) {
    for (const Facing facing : {Facing::up, Facing::down, Facing::vertical, Facing::round})
        for (const double length : {0.01, 0.15, 0.25, 0.6}) {
            double last = 0.0;
            for (double rise = 1e-3; rise < 300.0; rise *= 1.01) {
                const double loss = still(facing, length, 20.0 + rise, 20.0) * rise;
                EXPECT_GT(loss, last) << length << ' ' << rise;
                if (last > 0.0) {
                    EXPECT_LT(loss / last, 1.025) << length << ' ' << rise;
                }
                last = loss;
            }
        }
}

TEST(ForcedConvection, Textbook) {
    // Cengel, chapter 7, sheet of plastic 1.2 m along 3 m/s, 90 °C in 30 °C: 6.07 W/(m² K).
    EXPECT_NEAR(blown(3.0, 1.2, 90, 30), 6.07, tables_differ * 6.07);
    // Incropera Example 7.2, from memory: 0.25 m along 60 m/s, 230 °C in 25 °C, past the transition: Nu 546, k 0.0338.
    EXPECT_NEAR(blown(60.0, 0.25, 230, 25), 546 * 0.0338 / 0.25, tables_differ * 74.0);
}

TEST(ForcedConvection, HasNoStepAtTheTransition) {
    double last = blown(9.0, 1.0, 60, 20);
    for (double speed = 9.005; speed < 12.0; speed += 0.005) {
        const double h = blown(speed, 1.0, 60, 20);
        EXPECT_GT(h, last);
        EXPECT_LT(h / last, 1.005);
        last = h;
    }
}

// Incropera eq. 9.64: the cubes of both coefficients add up.
TEST(MixedConvection, CubesAddUp) {
    const Surface plate{{1.0}, {0.05}, Facing::up, 0.0, {0.4}, {0.15}};
    const Flow flow = heat_flow({0, room, plate}, celsius(80), celsius(20));
    const double h = std::cbrt(std::pow(still(Facing::up, 0.05, 80, 20), 3) + std::pow(blown(0.4, 0.15, 80, 20), 3));
    EXPECT_NEAR(flow.power.si, h * 60.0, 1e-9);
}

// Common practice, no source: small plates lose 5 to 10 W/(m² K) to still air, and several times that to a fan.
TEST(MixedConvection, TradeValues) {
    EXPECT_GT(still(Facing::vertical, 0.15, 70, 20), 4.0);
    EXPECT_LT(still(Facing::vertical, 0.15, 70, 20), 10.0);
    EXPECT_GT(blown(3.0, 0.1, 70, 20), 15.0);
    EXPECT_LT(blown(3.0, 0.1, 70, 20), 30.0);
}

// Cengel Table A-15, another table than the program's, to 3 % in conductivity and viscosity and 3.5 % in Pr.
TEST(Air, AgreesWithAnotherTable) {
    struct Row {
        double celsius, conductivity, viscosity, prandtl;
    };
    const std::vector<Row> rows{{-20, 0.02211, 1.169e-5, 0.7408}, {0, 0.02364, 1.338e-5, 0.7362},
                                {20, 0.02514, 1.516e-5, 0.7309},  {60, 0.02808, 1.896e-5, 0.7202},
                                {100, 0.03095, 2.306e-5, 0.7111}, {140, 0.03374, 2.745e-5, 0.7041}};
    for (const Row& row : rows) {
        const Air air = air_at(celsius(row.celsius));
        EXPECT_NEAR(air.conductivity / row.conductivity, 1.0, 0.03) << row.celsius;
        EXPECT_NEAR(air.kinematic_viscosity / row.viscosity, 1.0, 0.03) << row.celsius;
        EXPECT_NEAR(air.prandtl / row.prandtl, 1.0, 0.035) << row.celsius;
    }
}

// Incropera Table A.4 at its own rows; outside the nearest end.
TEST(Air, IsItsTableAtTheRows) {
    EXPECT_DOUBLE_EQ(air_at({300.0}).conductivity, 26.3e-3);
    EXPECT_DOUBLE_EQ(air_at({350.0}).kinematic_viscosity, 20.92e-6);
    EXPECT_DOUBLE_EQ(air_at({400.0}).prandtl, 0.690);
    EXPECT_DOUBLE_EQ(air_at({700.0}).kinematic_viscosity, 68.10e-6);
    EXPECT_DOUBLE_EQ(air_at({900.0}).conductivity, air_at({700.0}).conductivity);
    EXPECT_DOUBLE_EQ(air_at({100.0}).conductivity, 22.3e-3);
}

} // namespace
} // namespace trivet
