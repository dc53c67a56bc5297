#include "thermal/steady.h"

#include <Eigen/Dense>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace trivet {
namespace {

struct HandNetwork : ThermalNetwork {
    std::uint32_t body(std::string name = "body") {
        bodies.push_back({std::move(name), {100.0}, {}});
        return static_cast<std::uint32_t>(bodies.size() - 1);
    }
    void path(std::uint32_t from, std::uint32_t to, double conductance) {
        links.push_back({from, to, Conducts{{conductance}}});
    }
    void faces(std::uint32_t from, std::uint32_t to, double area, double length, Facing facing, double emissivity) {
        links.push_back({from, to, Surface{{area}, {length}, facing, emissivity, {}, {}}});
    }
    void heat(std::uint32_t at, double power, double coefficient = 0.0) {
        sources.push_back({at, {power}, {coefficient}, ambient, {}, {}});
    }
    auto solve() const { return steady_temperatures(*this, std::vector<double>(sources.size(), 1.0)); }
};

HandNetwork room_at(double degrees) {
    HandNetwork network;
    network.ambient = celsius(degrees);
    return network;
}

// Largest imbalance of a body over the power of all sources.
double imbalance(const ThermalNetwork& network, const std::vector<double>& on, const std::vector<Temperature>& at) {
    std::vector<double> excess(network.bodies.size());
    double power = 0.0;
    for (const HeatLink& link : network.links) {
        const Flow flow = heat_flow(link, at[link.from], link.to == room ? network.ambient : at[link.to]);
        excess[link.from] += flow.power.si;
        if (link.to != room) excess[link.to] -= flow.power.si;
    }
    for (std::size_t i = 0; i < on.size(); ++i) {
        const double given = on[i] * source_power(network.sources[i], at[network.sources[i].body]).power.si;
        excess[network.sources[i].body] -= given;
        power += given;
    }
    double worst = 0.0;
    for (const double one : excess) worst = std::max(worst, std::abs(one) / power);
    return worst;
}

// Cengel Example 3-2: window of 0.8 m by 1.5 m, 8 mm of glass, 20 °C inside and -10 °C outside: 266 W, -2.2 °C.
TEST(Steady, SingleGlass) {
    HandNetwork window = room_at(-10.0);
    const auto inside = window.body();
    const auto inner = window.body();
    const auto outer = window.body();
    window.path(inside, inner, 10.0 * 1.2);
    window.path(inner, outer, 0.78 * 1.2 / 0.008);
    window.path(outer, room, 40.0 * 1.2);
    window.heat(inside, 266.0);
    const auto at = window.solve();
    ASSERT_TRUE(at);
    EXPECT_NEAR(in_celsius((*at)[inside]), 20.0, 0.05);
    EXPECT_NEAR(in_celsius((*at)[inner]), -2.2, 0.05);
}

// Cengel Example 3-3: two panes of 4 mm with 10 mm of air (k 0.026) between: 69.2 W, 14.2 °C.
TEST(Steady, DoubleGlass) {
    HandNetwork window = room_at(-10.0);
    const auto inside = window.body();
    const auto inner = window.body();
    const auto gap = window.body();
    const auto outer_pane = window.body();
    const auto outer = window.body();
    window.path(inside, inner, 10.0 * 1.2);
    window.path(inner, gap, 0.78 * 1.2 / 0.004);
    window.path(gap, outer_pane, 0.026 * 1.2 / 0.01);
    window.path(outer_pane, outer, 0.78 * 1.2 / 0.004);
    window.path(outer, room, 40.0 * 1.2);
    window.heat(inside, 69.2);
    const auto at = window.solve();
    ASSERT_TRUE(at);
    EXPECT_NEAR(in_celsius((*at)[inside]), 20.0, 0.05);
    EXPECT_NEAR(in_celsius((*at)[inner]), 14.2, 0.05);
}

// Cengel Example 3-4: a joint of 11 000 W/(m² K) resists like 2.15 cm of aluminium (k 237).
TEST(Steady, JointAndMetalShareTheDrop) {
    HandNetwork stack = room_at(20.0);
    const auto top = stack.body();
    const auto middle = stack.body();
    stack.path(top, middle, 11000.0 * 0.01);
    stack.path(middle, room, 237.0 * 0.01 / 0.0215);
    stack.heat(top, 500.0);
    const auto at = stack.solve();
    ASSERT_TRUE(at);
    EXPECT_NEAR(((*at)[top].si - (*at)[middle].si) / ((*at)[middle].si - 293.15), 1.0, 0.005);
}

// Cengel Example 1-8: wire of 3 mm, 2 m long, 60 V and 1.5 A, h 34.9 W/(m² K), 15 °C: 152 °C.
TEST(Steady, WireInAir) {
    HandNetwork wire = room_at(15.0);
    wire.path(wire.body(), room, 34.9 * std::numbers::pi * 0.003 * 2.0);
    wire.heat(0, 60.0 * 1.5);
    const auto at = wire.solve();
    ASSERT_TRUE(at);
    EXPECT_NEAR(in_celsius((*at)[0]), 152.0, 0.2);
}

TEST(Steady, AveragePowerCounts) {
    HandNetwork plate = room_at(20.0);
    plate.path(plate.body(), room, 0.5);
    plate.heat(0, 60.0);
    const auto at = steady_temperatures(plate, std::vector<double>{0.25});
    ASSERT_TRUE(at);
    EXPECT_NEAR(in_celsius((*at)[0]), 20.0 + 0.25 * 60.0 / 0.5, 1e-9);
}

TEST(Steady, WithoutHeatEverythingIsAtRoomTemperature) {
    HandNetwork cold = room_at(-5.0);
    cold.path(cold.body(), room, 0.5);
    cold.faces(cold.body(), 0, 0.01, 0.05, Facing::up, 0.9);
    cold.heat(0, 60.0);
    const auto at = steady_temperatures(cold, std::vector<double>{0.0});
    ASSERT_TRUE(at);
    for (const Temperature temperature : *at) EXPECT_EQ(temperature, celsius(-5.0));
}

// Heat rises by the sum of all power beyond each link: N-1, N-2, ... 0 sources.
TEST(Steady, ChainOfAThousandBodies) {
    constexpr std::uint32_t length = 1000;
    HandNetwork chain = room_at(20.0);
    for (std::uint32_t i = 0; i < length; ++i) {
        chain.path(chain.body(), i == 0 ? room : i - 1, 4.0);
        chain.heat(i, 1e-3);
    }
    const auto at = chain.solve();
    ASSERT_TRUE(at);
    double expected = 293.15;
    for (std::uint32_t i = 0; i < length; ++i) {
        expected += (length - i) * 1e-3 / 4.0;
        EXPECT_NEAR((*at)[i].si, expected, 1e-9 * expected);
    }
}

// Reference: dense LU of Eigen on 200 random networks.
TEST(Steady, LinearNetworksAgreeWithADenseSolution) {
    std::mt19937 random(20240501);
    const auto number = [&](std::uint32_t n) { return std::uniform_int_distribution<std::uint32_t>(0, n - 1)(random); };
    const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(random); };
    for (int trial = 0; trial < 200; ++trial) {
        HandNetwork made = room_at(between(-20.0, 40.0));
        const std::uint32_t size = 1 + number(25);
        Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(size, size);
        Eigen::VectorXd power = Eigen::VectorXd::Zero(size);
        const auto connect = [&](std::uint32_t from, std::uint32_t to) {
            const double g = std::pow(10.0, between(-1.5, 1.5));
            made.path(from, to, g);
            matrix(from, from) += g;
            if (to == room) return;
            matrix(to, to) += g;
            matrix(from, to) -= g;
            matrix(to, from) -= g;
        };
        for (std::uint32_t i = 0; i < size; ++i) {
            connect(made.body(), i == 0 || number(3) == 0 ? room : number(i));
            if (i > 0 && number(2) == 0) connect(i, number(i));
            const double given = between(0.0, 20.0);
            made.heat(i, given);
            power(i) += given;
        }
        const Eigen::VectorXd rise = matrix.partialPivLu().solve(power);
        const auto at = made.solve();
        ASSERT_TRUE(at);
        for (std::uint32_t i = 0; i < size; ++i)
            EXPECT_NEAR((*at)[i].si, made.ambient.si + rise(i), 1e-9 * (made.ambient.si + rise(i)));
    }
}

// Every body's heat balance closes to 1e-9 of the power, from fins of 1 cm² to boxes of 0.3 m².
TEST(Steady, RandomNetworksBalance) {
    std::mt19937 random(7);
    const auto number = [&](std::uint32_t n) { return std::uniform_int_distribution<std::uint32_t>(0, n - 1)(random); };
    const auto scaled = [&](double lo, double hi) {
        return lo * std::pow(hi / lo, std::uniform_real_distribution<double>(0.0, 1.0)(random));
    };
    for (int trial = 0; trial < 3000; ++trial) {
        HandNetwork made = room_at(scaled(10.0, 40.0));
        const auto face = [&](std::uint32_t from, std::uint32_t to) {
            made.faces(from, to, scaled(1e-4, 0.3), scaled(0.003, 0.5), static_cast<Facing>(number(4)),
                       scaled(0.02, 1.0));
            if (number(3) == 0) std::get<Surface>(made.links.back().law).air_speed = {scaled(0.1, 5.0)};
            std::get<Surface>(made.links.back().law).along_stream = {0.1};
        };
        const std::uint32_t size = 1 + number(12);
        std::vector<double> on;
        for (std::uint32_t i = 0; i < size; ++i) {
            const std::uint32_t from = made.body();
            const std::uint32_t to = i == 0 || number(3) == 0 ? room : number(i);
            if (number(2) == 0)
                face(from, to);
            else
                made.path(from, to, scaled(0.01, 10.0));
            if (number(2) == 0) face(from, room);
            made.heat(i, scaled(1.0, 200.0), number(2) == 0 ? scaled(1e-4, 0.02) : 0.0);
            on.push_back(scaled(0.1, 1.0));
        }
        const auto at = steady_temperatures(made, on);
        ASSERT_TRUE(at) << trial;
        EXPECT_LT(imbalance(made, on, *at), 1e-9) << trial;
    }
}

// P0 / (1 + a x) = G x has the root x = (-1 + sqrt(1 + 4 a P0 / G)) / 2a.
TEST(Steady, HeaterOfRisingResistance) {
    for (const double coefficient : {1e-4, 0.0039, 0.05}) {
        HandNetwork heater = room_at(20.0);
        heater.path(heater.body(), room, 0.4);
        heater.heat(0, 60.0, coefficient);
        const auto at = heater.solve();
        ASSERT_TRUE(at);
        const double rise = (std::sqrt(1.0 + 4.0 * coefficient * 60.0 / 0.4) - 1.0) / (2.0 * coefficient);
        EXPECT_NEAR((*at)[0].si - 293.15, rise, 1e-9 * rise);
    }
}

// The same with a below 0: two roots up to P0 = G / 4|a|, the lower one is reached from the room; none beyond.
TEST(Steady, HeaterOfFallingResistanceRestsOrRunsAway) {
    constexpr double coefficient = -0.004;
    constexpr double conductance = 0.4;
    constexpr double most = conductance / (4.0 * 0.004);
    for (const double share : {0.1, 0.9, 0.999, 1.001, 1.5, 10.0}) {
        HandNetwork heater = room_at(20.0);
        heater.body("base");
        const auto element = heater.body("element");
        heater.path(0, room, 100.0);
        heater.path(element, room, conductance);
        heater.heat(element, share * most, coefficient);
        const auto at = heater.solve();
        if (share < 1.0) {
            ASSERT_TRUE(at) << share;
            const double rise = (1.0 - std::sqrt(1.0 - share)) / (2.0 * 0.004);
            EXPECT_NEAR((*at)[element].si - 293.15, rise, 1e-6 * rise);
        } else {
            ASSERT_FALSE(at) << share;
            EXPECT_EQ(at.error().why, NoSteadyState::Why::runs_away);
            EXPECT_EQ(at.error().body, element);
        }
    }
}

// Reference: walking up from the room in steps of 0.01 K until more is lost than gained.
TEST(Steady, FallingResistanceWithConvectionRestsAtTheFirstPoint) {
    int rests = 0;
    int runs = 0;
    for (const double coefficient : {-0.001, -0.003, -0.006, -0.012})
        for (const double power : {2.0, 5.0, 10.0, 20.0, 40.0, 80.0}) {
            HandNetwork heater = room_at(20.0);
            heater.faces(heater.body(), room, 0.02, 0.04, Facing::up, 0.3);
            heater.heat(0, power, coefficient);
            double kelvin = 293.15;
            while (heat_flow(heater.links[0], {kelvin}, heater.ambient).power.si <
                   source_power(heater.sources[0], {kelvin}).power.si)
                kelvin += 0.01;
            const bool beyond_its_law = 1.0 + coefficient * (kelvin - 293.15) <= 0.1;
            const auto at = heater.solve();
            ASSERT_EQ(at.has_value(), !beyond_its_law) << coefficient << ' ' << power;
            if (at) {
                EXPECT_NEAR((*at)[0].si, kelvin, 0.02) << coefficient << ' ' << power;
            }
            ++(at ? rests : runs);
        }
    EXPECT_GE(rests, 5);
    EXPECT_GE(runs, 5);
}

TEST(Steady, NamesABodyWithoutWayToTheRoom) {
    HandNetwork island = room_at(20.0);
    const auto plate = island.body("plate");
    const auto pot = island.body("pot");
    const auto lid = island.body("lid");
    island.path(plate, room, 1.0);
    island.path(pot, lid, 2.0);
    island.path(plate, pot, 1.0);
    island.links.back().share = 0.0; // lifted off
    island.heat(plate, 10.0);
    const auto at = island.solve();
    ASSERT_FALSE(at);
    EXPECT_EQ(at.error().why, NoSteadyState::Why::no_way_to_the_room);
    EXPECT_EQ(at.error().body, pot);
}

// Common practice, no source: a bare 24 V plate of 60 W and 15 cm by 15 cm, dull bare metal, under constant 24 V passes
// 130 °C and settles around 160 °C; held at 100 °C it needs well under its full power.
TEST(Steady, BarePlateUnderConstantVoltage) {
    HandNetwork plate = room_at(22.0);
    plate.body("plate");
    plate.faces(0, room, 0.0225, 0.0225 / 0.6, Facing::up, 0.2);
    plate.faces(0, room, 0.0225, 0.0225 / 0.6, Facing::down, 0.2);
    plate.heat(0, 60.0);
    const auto at = plate.solve();
    ASSERT_TRUE(at);
    EXPECT_GT(in_celsius((*at)[0]), 130.0);
    EXPECT_LT(in_celsius((*at)[0]), 190.0);
    const auto held = steady_temperatures(plate, std::vector<double>{0.5});
    ASSERT_TRUE(held);
    EXPECT_LT(in_celsius((*held)[0]), 110.0);
}

} // namespace
} // namespace trivet
