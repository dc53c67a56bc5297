#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <gtest/gtest.h>

#include <vector>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

struct Tap {
    double metres; // from the feeding end
    double amperes;
    double volts; // published
};
struct Distributor {
    const char* name;
    double feed;
    double ohms_per_metre; // both conductors
    std::vector<Tap> taps;
    double tolerance;
};

// V. K. Mehta and R. Mehta, Principles of Power System, chapter 13, examples 13.1, 13.3 and 13.4: voltage drop on the
// outgoing and the return conductor together.
TEST(TextbookDistributor, TapVoltagesAreThePublishedOnes) {
    const Distributor distributors[] = {
        {"13.1",
         300.0,
         2.0 * 0.01 / 1000.0,
         {{500, 100, 295.0}, {1000, 150, 291.0}, {1600, 200, 288.0}, {2000, 50, 287.6}},
         1e-3},
        {"13.3, tram line: trolley wire and track", 600.0, 0.28 / 1000.0, {{2000, 40, 566.4}, {6000, 20, 544.0}}, 1e-3},
        {"13.4, 0.27 cm2 at 1.78e-6 ohm cm",
         250.0,
         2.0 * 1.78e-8 / 0.27e-4,
         {{75, 12, 245.35}, {175, 15, 240.73}, {225, 20, 239.41}},
         1e-2},
    };
    for (const Distributor& line : distributors) {
        SCOPED_TRACE(line.name);
        HandCircuit made;
        made.source(1, 0, exactly(line.feed));
        std::uint32_t out = 1;
        std::uint32_t back = 0;
        double at = 0.0;
        std::vector<BranchId> loads;
        for (const Tap& tap : line.taps) {
            const double ohms = 0.5 * line.ohms_per_metre * (tap.metres - at);
            at = tap.metres;
            const std::uint32_t next = out == 1 ? 2 : out + 2;
            made.wire(out, next, exactly(ohms));
            made.wire(next + 1, back, exactly(ohms));
            out = next;
            back = next + 1;
            loads.push_back(made.load(out, back, LoadBehaviour::constant_current, exactly(tap.amperes), line.feed));
        }
        const Circuit& circuit = made.done();
        const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
        ASSERT_TRUE(point.has_value());
        EXPECT_LT(point->kirchhoff_residual, 1e-9);
        for (std::size_t i = 0; i < loads.size(); ++i) {
            const Branch& load = circuit.branches[loads[i].value];
            EXPECT_NEAR(point->node_voltage[load.from.value] - point->node_voltage[load.to.value], line.taps[i].volts,
                        line.tolerance);
        }
    }
}

} // namespace
} // namespace trivet
