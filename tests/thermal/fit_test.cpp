#include "thermal/fit.h"

#include "thermal/log_support.h"
#include "thermal/replay.h"

#include <gtest/gtest.h>

#include <array>

namespace trivet {
namespace {

constexpr double kelvin_of_noise = 0.2;

std::vector<double> half_on(std::size_t rows) {
    std::vector<double> on(rows, 0.0);
    std::fill_n(on.begin(), rows / 2, 1.0);
    return on;
}

HeatLog warm_and_cool(const PlateAndPot& build) { return perfect_log(build, half_on(30), 120.0, build.air, build.air); }

HeatLog cooling(const PlateAndPot& build) {
    return perfect_log(build, std::vector<double>(40, 0.0), 90.0, build.air + 60.0, build.air + 55.0);
}

FitResult fit_open(const PlateAndPot& build, const std::vector<OpenParameter>& open, const HeatLog& log) {
    return fit(opened(network_of(build), open), open, log);
}

HeatLog only_the_pot(HeatLog log) {
    std::vector<Temperature> kept;
    for (std::size_t row = 0; row < log.times.size(); ++row) kept.push_back(log.temperatures[2 * row + 1]);
    log.bodies = {1};
    log.temperatures = std::move(kept);
    return log;
}

// The intervals are those of the joint 95 % region: all truths together inside in at least 95 of 100 logs, whose seeds
// are simply 1 to 100. That they are not merely wide is checked against the scatter of the values found.
TEST(Fit, FindsTheTruthWithinItsOwnIntervals) {
    const PlateAndPot build;
    const std::vector<OpenParameter> open{plate_to_pot, pot_to_room, plate_capacity};
    const std::array<double, 3> truth{build.plate_to_pot, build.pot_to_room, build.plate_capacity};
    const HeatLog log = warm_and_cool(build);
    int all_inside = 0;
    std::array<int, 3> inside{};
    std::array<double, 3> squares{};
    std::array<double, 3> halves{};
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const FitResult result = fit_open(build, open, noisy(log, seed, kelvin_of_noise));
        ASSERT_TRUE(result.undetermined.empty()) << seed;
        ASSERT_TRUE(result.converged) << seed;
        bool all = true;
        for (std::size_t i = 0; i < 3; ++i) {
            const FittedParameter& found = result.parameters[i];
            const bool holds = found.lowest <= truth[i] && truth[i] <= found.highest;
            all = all && holds;
            inside[i] += holds ? 1 : 0;
            squares[i] += std::pow(std::log(found.value / truth[i]), 2);
            halves[i] += 0.5 * std::log(found.highest / found.lowest);
        }
        all_inside += all ? 1 : 0;
    }
    EXPECT_GE(all_inside, 95);
    // F(3, 55) at 95 % is 2.77 (table of the F distribution): the box reaches sqrt(3 * 2.77) standard deviations. The
    // scatter of 100 values is itself known to 7 % only; three times that is allowed.
    const double reach = std::sqrt(3.0 * 2.77);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_GE(inside[i], 95) << i;
        const double scatter = std::sqrt(squares[i] / 100.0);
        EXPECT_NEAR(halves[i] / 100.0 / reach / scatter, 1.0, 0.22) << i;
    }
}

TEST(Fit, FindsEveryNumberOfAnExactLog) {
    const PlateAndPot build;
    const std::vector<OpenParameter> open{plate_to_pot, pot_to_room, plate_capacity, pot_capacity};
    const FitResult result = fit_open(build, open, warm_and_cool(build));
    ASSERT_TRUE(result.undetermined.empty());
    EXPECT_NEAR(result.parameters[0].value, build.plate_to_pot, 1e-4 * build.plate_to_pot);
    EXPECT_NEAR(result.parameters[1].value, build.pot_to_room, 1e-4 * build.pot_to_room);
    EXPECT_NEAR(result.parameters[2].value, build.plate_capacity, 1e-4 * build.plate_capacity);
    EXPECT_NEAR(result.parameters[3].value, build.pot_capacity, 1e-4 * build.pot_capacity);
    EXPECT_LT(result.largest_residual.si, 1e-3);
}

// Newton's law of cooling in closed form: T = air + (T0 - air) exp(-G t / C). Two unknowns (ln G, T0), so the
// covariance is the inverse of a 2 x 2 matrix. Student's t for 28 degrees of freedom at 95 %: 2.048 (table of the t
// distribution).
TEST(Fit, GivesTheIntervalOfACoolingCurveInClosedForm) {
    constexpr double conductance = 0.5;
    constexpr double capacity = 400.0;
    ThermalNetwork network;
    network.ambient = {293.15};
    network.bodies = {{"tray", {capacity}, {}}};
    network.links = {{0, room, Conducts{{1.0}}, 1.0}};
    HeatLog log;
    log.bodies = {0};
    for (int row = 0; row < 30; ++row) {
        log.times.push_back({row * 60.0});
        log.temperatures.push_back({293.15 + 40.0 * std::exp(-conductance * row * 60.0 / capacity)});
    }
    log = noisy(log, 11, 0.3);
    const OpenParameter open{OpenParameter::Kind::conductance, 0, "tray to ambient (conductance)", 0.0};
    const FitResult result = fit(network, {open}, log);
    ASSERT_EQ(result.parameters.size(), 1U);
    const double found = result.parameters[0].value;
    double aa = 0.0;
    double ab = 0.0;
    double bb = 0.0;
    double ra = 0.0;
    double rb = 0.0;
    double squares = 0.0;
    // The start temperature is linear: its best value for the conductance found, then both derivatives there.
    for (const bool second : {false, true}) {
        const double start = bb > 0.0 ? rb / bb : 0.0;
        aa = ab = bb = ra = rb = squares = 0.0;
        for (std::size_t row = 0; row < 30; ++row) {
            const double decay = std::exp(-found * log.times[row].si / capacity);
            const double above = log.temperatures[row].si - 293.15;
            const double by_log = -start * decay * found * log.times[row].si / capacity;
            aa += by_log * by_log;
            ab += by_log * decay;
            bb += decay * decay;
            ra += by_log * (above - start * decay);
            rb += second ? 0.0 : decay * above;
            squares += std::pow(above - start * decay, 2);
        }
    }
    const double deviation = std::sqrt(squares / 28.0 * bb / (aa * bb - ab * ab));
    EXPECT_NEAR(ra / aa, 0.0, 0.01 * deviation); // it is the minimum
    ASSERT_LT(result.autocorrelation, 0.2);
    EXPECT_NEAR(std::log(result.parameters[0].highest / found), 2.048 * deviation, 2e-3 * deviation);
    EXPECT_NEAR(std::log(found / result.parameters[0].lowest), 2.048 * deviation, 2e-3 * deviation);
    EXPECT_NEAR(result.residual.si, std::sqrt(squares / 30.0), 1e-4);
}

struct Undetermined {
    const char* why;
    std::vector<OpenParameter> open;
    HeatLog log;
    std::size_t named;
    std::size_t missing;
};

TEST(Fit, NamesWhatALogCannotDetermine) {
    const PlateAndPot build;
    const std::vector<OpenParameter> every{plate_to_pot,
                                           pot_to_room,
                                           plate_capacity,
                                           pot_capacity,
                                           {OpenParameter::Kind::conductance, 2, "plate to ambient", 0.0}};
    const HeatLog nothing = perfect_log(build, std::vector<double>(40, 0.0), 90.0, build.air, build.air);
    const std::vector<Undetermined> rows{
        {"nothing gets warm", {plate_to_pot, pot_to_room}, noisy(nothing, 5, 0.1), 2, 2},
        {"nothing gets warm, exactly", {plate_to_pot, pot_to_room}, nothing, 2, 2},
        {"cooling without known heat: all times a factor fit", every, noisy(cooling(build), 5, 0.1), 5, 1},
        {"the same without noise", every, cooling(build), 5, 1},
        {"bodies change places behind the pot",
         {plate_to_pot, pot_to_room, plate_capacity},
         only_the_pot(noisy(perfect_log(build, half_on(60), 60.0, build.air, build.air), 7, kelvin_of_noise)),
         1,
         1},
    };
    for (const Undetermined& row : rows) {
        const FitResult result = fit_open(build, row.open, row.log);
        EXPECT_EQ(result.undetermined.size(), row.named) << row.why;
        EXPECT_EQ(result.missing, row.missing) << row.why;
    }
}

// Two paths side by side: only their sum shows.
TEST(Fit, NamesTwoPathsOfWhichOnlyTheSumShows) {
    const PlateAndPot build;
    ThermalNetwork network = network_of(build);
    network.links.push_back({1, room, Conducts{{1.0}}, 1.0});
    const std::vector<OpenParameter> open{
        pot_to_room, plate_to_pot, {OpenParameter::Kind::conductance, 3, "second path", 0.0}};
    for (const double noise : {0.0, kelvin_of_noise}) {
        const FitResult result = fit(opened(network, open), open, noisy(warm_and_cool(build), 3, noise));
        EXPECT_EQ(result.undetermined, (std::vector<std::string>{pot_to_room.name, "second path"}));
        EXPECT_EQ(result.missing, 1U);
    }
}

TEST(Fit, WorksFromPartOfTheReadings) {
    const PlateAndPot build;
    const std::vector<OpenParameter> open{plate_to_pot, pot_to_room};
    HeatLog log = noisy(warm_and_cool(build), 4, kelvin_of_noise);
    for (std::size_t i = 0; i < log.temperatures.size(); i += 5) log.temperatures[i] = {std::nan("")};
    for (const HeatLog& read : {log, only_the_pot(log)}) {
        const FitResult result = fit_open(build, open, read);
        ASSERT_TRUE(result.undetermined.empty());
        EXPECT_LE(result.parameters[0].lowest, build.plate_to_pot);
        EXPECT_GE(result.parameters[0].highest, build.plate_to_pot);
        EXPECT_LE(result.parameters[1].lowest, build.pot_to_room);
        EXPECT_GE(result.parameters[1].highest, build.pot_to_room);
    }
}

// One body in place of two: what is left over follows a curve, and the intervals widen for it.
TEST(Fit, ShowsThatTheModelMissesSomething) {
    const PlateAndPot build;
    ThermalNetwork network = network_of(build);
    network.bodies.resize(1);
    network.links = {{0, room, Conducts{{1.0}}, 1.0}};
    const std::vector<OpenParameter> open{{OpenParameter::Kind::conductance, 0, "conductance", 0.0}, plate_capacity};
    HeatLog log = noisy(perfect_log(build, half_on(120), 30.0, build.air, build.air), 6, 0.05);
    log = only_the_pot(log);
    log.bodies = {0};
    const FitResult result = fit(opened(network, open), open, log);
    EXPECT_GT(result.autocorrelation, 0.5);
    EXPECT_GT(result.residual.si, 0.3);
    EXPECT_GT(result.parameters[0].highest / result.parameters[0].value, 1.02);
}

TEST(Fit, TellsItsProgress) {
    const PlateAndPot build;
    const std::vector<OpenParameter> open{pot_to_room};
    int told = 0;
    const auto result = fit(opened(network_of(build), open), open, warm_and_cool(build),
                            [&told](int, TemperatureDifference) { ++told; });
    EXPECT_EQ(told, result.iterations);
    EXPECT_GT(told, 0);
}

TEST(Fit, DeterminesNothingFromTooFewReadings) {
    const PlateAndPot build;
    const FitResult result = fit_open(build, {pot_to_room}, perfect_log(build, {1.0}, 90.0, build.air, build.air));
    EXPECT_EQ(result.undetermined.size(), 1U);
    EXPECT_FALSE(result.converged);
}

// A body in a room whose air warms evenly follows it late: T = air0 + s (t - tau) + (T0 - air0 + s tau) exp(-t / tau),
// the solution of tau dT/dt = air0 + s t - T.
TEST(Fit, FollowsAirThatWarms) {
    constexpr double tau = 600.0;
    constexpr double slope = 0.002;
    ThermalNetwork network;
    network.bodies = {{"tray", {300.0}, {}}};
    network.links = {{0, room, Conducts{{0.5}}, 1.0}};
    HeatLog log;
    log.bodies = {0};
    for (int row = 0; row < 20; ++row) {
        log.times.push_back({row * 300.0});
        log.temperatures.push_back({0.0});
        log.ambient.push_back({290.0 + slope * row * 300.0});
    }
    const std::vector<double> computed = Replay(log).run(network, {330.0}, false);
    ASSERT_EQ(computed.size(), 20U);
    for (std::size_t row = 0; row < 20; ++row) {
        const double time = log.times[row].si;
        const double expected = 290.0 + slope * (time - tau) + (330.0 - 290.0 + slope * tau) * std::exp(-time / tau);
        EXPECT_NEAR(computed[row], expected, 2e-3) << row;
    }
}

} // namespace
} // namespace trivet
