#include "thermal/hand_network.h"
#include "thermal/steady.h"
#include "thermal/transient.h"

#include <gtest/gtest.h>

#include <array>
#include <random>

namespace trivet {
namespace {

using testing::energy_imbalance;
using testing::HandNetwork;
using testing::run_for;

// Conservation of energy (first law): what sources supply is lost to the room or stored, in every network.
class RandomBuild {
public:
    explicit RandomBuild(unsigned seed)
        : random_(seed) {}

    HandNetwork network() {
        HandNetwork made(number(-10.0, 40.0));
        const auto bodies = static_cast<std::uint32_t>(number(1.0, 9.0));
        for (std::uint32_t i = 0; i < bodies; ++i) {
            made.body(std::pow(10.0, number(-1.5, 3.5)));
            if (chance(0.3)) made.melts(i, 30.0, 30.0 + number(0.1, 5.0), std::pow(10.0, number(1.0, 4.0)));
        }
        for (std::uint32_t i = 0; i < bodies; ++i) {
            add_path(made, i, i == 0 || chance(0.3) ? room : below(i));
            if (chance(0.4)) add_path(made, i, room);
        }
        for (int i = 0; i < 2; ++i) {
            HeatSource& source = made.heat(below(bodies), std::pow(10.0, number(0.0, 2.0)));
            source.coefficient = {number(-0.002, 0.004)};
            if (chance(0.8)) source.control = 0;
            if (chance(0.5)) source.cutoffs = {0};
        }
        return made;
    }

    RunSetup setup(std::size_t bodies) {
        RunSetup made = run_for(std::pow(10.0, number(2.0, 5.0)), std::pow(10.0, number(-8.0, -4.0)));
        const double low = number(25.0, 60.0);
        const auto body = static_cast<std::uint32_t>(bodies);
        made.controls = {testing::two_point(below(body), low, low + number(0.5, 5.0), chance(0.5) ? 3.0 : 0.0,
                                            chance(0.5) ? number(1.0, 60.0) : 0.0)};
        made.controls[0].stuck_on = chance(0.2);
        Trip trip{{below(body), {chance(0.5) ? 15.0 : 0.0}}, celsius(number(60.0, 110.0)), {}};
        if (chance(0.5)) trip.closes = trip.opens - TemperatureDifference{number(5.0, 30.0)};
        made.cutoffs = {trip};
        if (chance(0.5))
            for (std::size_t i = 0; i < bodies; ++i) made.start.push_back(celsius(number(-20.0, 100.0)));
        made.most_switchings = 500;
        return made;
    }

private:
    double number(double low, double high) { return std::uniform_real_distribution(low, high)(random_); }
    bool chance(double share) { return number(0.0, 1.0) < share; }
    std::uint32_t below(std::uint32_t end) { return std::uniform_int_distribution<std::uint32_t>(0, end - 1)(random_); }

    void add_path(HandNetwork& made, std::uint32_t from, std::uint32_t to) {
        constexpr std::array facings{Facing::up, Facing::down, Facing::vertical, Facing::round};
        if (chance(0.5)) {
            made.path(from, to, std::pow(10.0, number(-2.0, 1.0)));
        } else {
            made.faces(from, to, std::pow(10.0, number(-4.0, -1.0)), number(0.005, 0.3), facings[below(4)],
                       number(0.0, 0.95));
            auto& surface = std::get<Surface>(made.links.back().law);
            surface.along_stream = {0.1};
            if (chance(0.3)) surface.air_speed = {number(0.5, 5.0)};
            made.links.back().share = number(0.3, 1.3);
        }
    }

    std::mt19937 random_;
};

TEST(EnergyBalance, BalanceClosesInRandomNetworks) {
    std::size_t switched = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) {
        RandomBuild random(seed);
        const HandNetwork network = random.network();
        const RunSetup setup = random.setup(network.bodies.size());
        const auto run = simulate(network, setup);
        SCOPED_TRACE(seed);
        ASSERT_LE(energy_imbalance(run), 1e-6);
        ASSERT_TRUE(run.ended == setup.until || run.switchings.size() == setup.most_switchings) << run.ended.si;
        double stored = 0.0;
        double by_control = 0.0;
        for (std::size_t i = 0; i < network.bodies.size(); ++i) {
            const Temperature start = setup.start.empty() ? network.ambient : setup.start[i];
            stored += (heat_content(network.bodies[i], run.end[i]) - heat_content(network.bodies[i], start)).si;
            ASSERT_LE(run.lowest[i].si, std::min(start, run.end[i]).si + 1e-9);
            ASSERT_GE(run.highest[i].si, std::max(start, run.end[i]).si - 1e-9);
        }
        for (const Energy energy : run.supplied_by) by_control += energy.si;
        ASSERT_NEAR(run.stored.si, stored, 1e-9 * (std::abs(stored) + run.supplied.si) + 1e-6);
        ASSERT_LE(by_control, run.supplied.si * (1.0 + 1e-12));
        switched += run.switchings.size();
    }
    EXPECT_GT(switched, 5000u);
}

// Left alone for long enough, a network ends where the steady solver says it does.
TEST(EnergyBalance, LongRunsEndAtTheSteadyTemperatures) {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        RandomBuild random(seed);
        HandNetwork network = random.network();
        for (HeatSource& source : network.sources) {
            source.control.reset();
            source.cutoffs.clear();
            source.coefficient = {std::max(0.0, source.coefficient.si)};
        }
        const auto steady = steady_temperatures(network, std::vector<double>(network.sources.size(), 1.0));
        if (!steady) continue;
        const auto run = simulate(network, run_for(1e8));
        for (std::size_t i = 0; i < network.bodies.size(); ++i)
            ASSERT_NEAR(run.end[i].si, (*steady)[i].si, 2e-3) << seed;
        ASSERT_LE(energy_imbalance(run), 1e-6) << seed;
        ASSERT_LT(run.steps, 20000u) << seed;
    }
}

// Nothing switched, nothing warmer than the room: nothing happens.
TEST(EnergyBalance, RestStaysAtRest) {
    HandNetwork network(20.0);
    network.body(10.0);
    network.body(1000.0);
    network.path(0, 1, 1.0);
    network.faces(1, room, 0.01, 0.1, Facing::vertical, 0.9);
    const auto run = simulate(network, run_for(1e6));
    EXPECT_EQ(run.end[0], network.ambient);
    EXPECT_EQ(run.lost.si, 0.0);
    EXPECT_EQ(run.ended.si, 1e6);
}

} // namespace
} // namespace trivet
