#include "protection/bench_parts.h"
#include "protection/breaches.h"
#include "protection/fault_outcome.h"
#include "protection/random_circuit.h"
#include "protection/return_detours.h"

#include <gtest/gtest.h>

#include <chrono>

namespace trivet {
namespace {

// Copies of an eleven-part build, each with a supply of its own or all on one, all plates bonded to its minus.
DesignBuilder many_builds(int copies, bool one_supply) {
    DesignBuilder build;
    build.supply("supply", volts(23.0, 25.0));
    for (int i = 0; i < copies; ++i) {
        const std::string n = std::to_string(i);
        const std::string supply = one_supply ? "supply" : "supply" + n;
        if (!one_supply) build.supply(supply, volts(23.0, 25.0));
        build.converter("buck" + n, Topology::step_down, volts(8.0, 30.0), volts(5.0), number(0.9));
        add_board(build, "board" + n);
        add_relay_module(build, "relay" + n);
        build.heater("plate" + n, ohms(9.0, 11.0));
        build.fuse("fuse" + n, ohms(0.01));
        build.cutoff("link" + n, ohms(0.01));
        build.hand_switch("main" + n, ohms(0.01));
        add_thermistor(build, "probe" + n, SensorCurve::ntc);
        build.resistor("divider" + n, ohms(10e3));
        build.current_load("fan" + n, amperes(0.1));
        add_control(build, "hold" + n, "probe" + n, {"relay" + n});
        const auto wire = [&](const std::string& from, const std::string& to) {
            build.wire(from + " -> " + to, 0.3, 1.0);
        };
        wire(supply + ".+", "fuse" + n + ".in");
        wire("fuse" + n + ".out", "main" + n + ".in");
        wire("main" + n + ".out", "relay" + n + ".A");
        wire("relay" + n + ".B", "link" + n + ".in");
        wire("link" + n + ".out", "plate" + n + ".a");
        wire("plate" + n + ".b", supply + ".-");
        wire("main" + n + ".out", "buck" + n + ".in+");
        wire("buck" + n + ".in-", supply + ".-");
        wire("buck" + n + ".out+", "board" + n + ".5V");
        wire("buck" + n + ".out-", "board" + n + ".GND");
        wire("board" + n + ".IO1", "relay" + n + ".IN");
        wire("buck" + n + ".out+", "relay" + n + ".VCC");
        wire("buck" + n + ".out-", "relay" + n + ".GND");
        wire("board" + n + ".5V", "divider" + n + ".a");
        wire("divider" + n + ".b", "board" + n + ".AIN");
        wire("probe" + n + ".a", "board" + n + ".AIN");
        wire("probe" + n + ".b", "board" + n + ".GND");
        wire("main" + n + ".out", "fan" + n + ".+");
        wire("fan" + n + ".-", supply + ".-");
        build.design().parts[build.part_called("plate" + n).value].bonded_to = build.terminal(supply + ".-");
    }
    return build;
}

class Stopwatch {
public:
    double seconds() const { return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count(); }

private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

// Two seconds are aimed at for 500 parts in a release build; a debug build on a busy machine gets thirty times as long.
constexpr double patience = 60.0;

void study(const DesignBuilder& build, const std::string& what, std::size_t heaters) {
    const Stopwatch tracing;
    const Traced traced(build);
    testing::Test::RecordProperty(what + " tracing", std::to_string(tracing.seconds()));
    const Stopwatch faults;
    const FaultStudy found =
        study_faults(traced.circuit, traced.nets, traced.design, traced.actuations, traced.off, traced.cases);
    testing::Test::RecordProperty(what + " faults", std::to_string(faults.seconds()));
    EXPECT_LT(faults.seconds(), patience) << what;
    std::size_t stuck = 0;
    for (const FaultOutcome& outcome : found.outcomes) stuck += outcome.stuck_on.size();
    EXPECT_GE(stuck, 6 * heaters) << what;

    const Stopwatch breaches;
    // The cutoff in the plus lead is in every way; shorted, it leaves the switches.
    EXPECT_TRUE(find_breaches(traced.circuit, traced.design, traced.actuations, traced.off).empty()) << what;
    testing::Test::RecordProperty(what + " breaches", std::to_string(breaches.seconds()));
    EXPECT_LT(breaches.seconds(), patience) << what;
    const Stopwatch detours;
    EXPECT_TRUE(return_detours(traced.circuit).empty() || heaters > 0) << what;
    testing::Test::RecordProperty(what + " detours", std::to_string(detours.seconds()));
    EXPECT_LT(detours.seconds(), patience) << what;
}

TEST(ManyParts, FiveHundredOnSuppliesOfTheirOwnTakeLittleTime) { study(many_builds(45, false), "own supplies", 45); }
TEST(ManyParts, AHundredAndFiftyOnOneSupplyTakeLittleTime) { study(many_builds(15, true), "one supply", 15); }

// Wired at random, parts end up in parallel with themselves, sources on each other and heaters across nothing: every
// fault has an answer, and what it says is stuck on is in a loop with a source.
TEST(ManyParts, EveryFaultOfRandomCircuitsHasAnAnswer) {
    std::mt19937 random(20240614);
    std::size_t stuck = 0;
    for (int i = 0; i < 150; ++i) {
        RandomCircuit made(random);
        made.bond();
        const Traced traced(made.build);
        const FaultStudy found =
            study_faults(traced.circuit, traced.nets, traced.design, traced.actuations, traced.off, traced.cases);
        ASSERT_EQ(found.outcomes.size(), traced.cases.size());
        return_detours(traced.circuit);
        for (std::size_t c = 0; c < traced.cases.size(); ++c) {
            for (const StuckOn& s : found.outcomes[c].stuck_on) {
                const bool by_join = !traced.cases[c].joins.empty() || s.cutoffs.empty();
                EXPECT_TRUE(by_join || stays_fed(traced.circuit, s.heater, {}))
                    << describe(traced.cases[c], traced.design) << '\n'
                    << to_text(traced.circuit, traced.design);
                ++stuck;
            }
        }
    }
    EXPECT_GT(stuck, 50U);
}

// The worst case in one circuit; too slow for every run of a debug build.
TEST(ManyParts, DISABLED_FiveHundredOnOneSupply) { study(many_builds(50, true), "one supply", 50); }

} // namespace
} // namespace trivet
