#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

struct Volts {
    std::uint32_t plus, minus;
    double volts, ohms;
};
struct Ohms {
    std::uint32_t from, to;
    double ohms;
};
struct Expected {
    std::size_t branch; // sources first, then resistors
    double amperes;
    double tolerance;
};
struct Network {
    std::string name;
    std::vector<Volts> sources;
    std::vector<Ohms> resistors;
    std::vector<Expected> expected;
};

// A current source is a source of a million times the resistance it works into.
Volts current_source(std::uint32_t into, std::uint32_t out_of, double amperes) {
    return {into, out_of, amperes * 1e8, 1e8};
}

// J. O. Bird, Electrical Circuit Theory and Technology, chapter 13; A. R. Hambley, Electrical Engineering, chapter 2.
const std::vector<Network>& networks() {
    static const std::vector<Network> all{
        // Node 0 minus, node 1 the common plus of both batteries and the load.
        {"Bird 13 problem 2, two batteries on 4 ohm",
         {{1, 0, 4.0, 2.0}, {1, 0, 2.0, 1.0}},
         {{1, 0, 4.0}},
         {{0, 0.857, 5e-4}, {1, -0.286, 5e-4}, {2, 0.571, 5e-4}}},
        {"Bird 13 problem 3, two loops",
         {{1, 0, 4.0, 0.5}, {0, 1, 12.0, 2.0}},
         {{1, 0, 5.0}},
         {{0, 6.52, 5e-3}, {1, 6.37, 5e-3}, {2, 0.15, 6e-3}}},
        {"Bird 13 problem 4, bridge",
         {{1, 0, 54.0, 0.0}},
         {{1, 2, 2.0}, {2, 0, 11.0}, {1, 3, 14.0}, {3, 0, 3.0}, {2, 3, 32.0}},
         {{1, 5.0, 1e-4}, {2, 4.0, 1e-4}, {3, 3.0, 1e-4}, {4, 4.0, 1e-4}, {5, 1.0, 1e-4}}},
        {"Bird 13 problem 6, opposing sources",
         {{1, 0, 8.0, 3.0}, {0, 1, 3.0, 2.0}},
         {{1, 0, 18.0}},
         {{2, 0.073, 5e-4}}},
        {"Bird 13 problem 7, Thevenin",
         {{1, 0, 10.0, 0.0}},
         {{1, 2, 2.0}, {2, 0, 8.0}, {2, 3, 5.0}, {3, 0, 10.0}},
         {{4, 0.482, 5e-4}}},
        {"Bird 13 problem 10, Thevenin",
         {{1, 0, 24.0, 0.0}},
         {{1, 0, 20.0}, {1, 2, 5.0}, {2, 0, 10.0}, {2, 3, 5.0 / 3.0}, {3, 0, 3.0}},
         {{5, 2.0, 1e-5}}},
        // G = [.35 -.2 -.05; -.2 .3 -.1; -.05 -.1 .35] S, 10 A into node 2.
        {"Hambley example 2.8, nodal analysis",
         {current_source(2, 0, 10.0)},
         {{1, 0, 10.0}, {1, 2, 5.0}, {1, 3, 20.0}, {2, 3, 10.0}, {3, 0, 5.0}},
         {{1, 4.545, 5e-4}, {2, (45.45 - 72.73) / 5.0, 5e-3}, {3, 0.91, 2e-3}, {5, 27.27 / 5.0, 1e-3}}},
        // R = [30 -10 -20; -10 22 -12; -20 -12 46] ohm, V = [70 -42 0]: mesh currents 4, 1, 2.
        {"Hambley example 2.13, mesh analysis",
         {{1, 0, 70.0, 0.0}, {2, 0, 42.0, 0.0}},
         {{3, 0, 10.0}, {1, 3, 20.0}, {3, 2, 12.0}, {1, 2, 14.0}},
         {{2, 3.0, 1e-5}, {3, 2.0, 1e-5}, {4, -1.0, 1e-5}, {5, 2.0, 1e-5}}},
        // Thevenin equivalent 24 V behind 4 ohm: loaded with 4 ohm it gives 3 A.
        {"Hambley example 2.17, Thevenin with a current source",
         {{1, 0, 20.0, 0.0}, current_source(2, 0, 2.0)},
         {{1, 2, 5.0}, {2, 0, 20.0}, {2, 0, 4.0}},
         {{4, 3.0, 1e-5}}},
        // 50 V, 20 and 5 ohm: matched with 4 ohm the load takes 6.25 W, so 1.25 A.
        {"Hambley example 2.21, maximum power",
         {{1, 0, 50.0, 0.0}},
         {{1, 2, 20.0}, {2, 0, 5.0}, {2, 0, 4.0}},
         {{3, 1.25, 1e-5}}},
        // A balanced bridge: no current through the detector between the mid-points.
        {"Hambley example 2.23, Wheatstone bridge",
         {{1, 0, 10.0, 0.0}},
         {{1, 2, 1000.0}, {2, 0, 732.0}, {1, 3, 10000.0}, {3, 0, 7320.0}, {2, 3, 50.0}},
         {{5, 0.0, 1e-12}}},
        // 15 A beside 6 ohm, 4 ohm on, then 8 + 7 ohm beside the load: 9 A behind 6 ohm.
        {"Bird 13 problem 15, Norton",
         {current_source(1, 0, 15.0)},
         {{1, 0, 6.0}, {1, 2, 4.0}, {2, 3, 8.0}, {3, 0, 7.0}, {2, 0, 2.0}},
         {{5, 6.75, 1e-5}}},
        {"Bird 13 problem 20, 6 V behind 2.5 ohm gives at most 3.6 W",
         {{1, 0, 6.0, 2.5}},
         {{1, 0, 2.5}},
         {{1, 1.2, 1e-6}}},
        {"Bird 13 problem 21, 30 V behind 1.5 ohm gives at most 150 W",
         {{1, 0, 30.0, 1.5}},
         {{1, 0, 1.5}},
         {{1, 10.0, 1e-5}}},
        {"Hambley example 2.3, divider 1k 1k 2k 6k on 15 V",
         {{1, 0, 15.0, 0.0}},
         {{1, 2, 1000.0}, {2, 3, 1000.0}, {3, 4, 2000.0}, {4, 0, 6000.0}},
         {{1, 1.5e-3, 1e-8}, {4, 1.5e-3, 1e-8}}},
        {"Hambley example 2.2",
         {{1, 0, 90.0, 0.0}},
         {{1, 2, 10.0}, {2, 0, 30.0}, {2, 0, 60.0}},
         {{1, 3.0, 1e-6}, {2, 2.0, 1e-6}, {3, 1.0, 1e-6}}},
        {"Hambley example 2.4",
         {{1, 0, 100.0, 0.0}},
         {{1, 2, 60.0}, {2, 0, 30.0}, {2, 0, 60.0}},
         {{1, 1.25, 1e-6}, {3, 0.417, 5e-4}}},
    };
    return all;
}

TEST(TextbookNetwork, BranchCurrentsAreThePublishedOnes) {
    for (const Network& network : networks()) {
        SCOPED_TRACE(network.name);
        HandCircuit made;
        for (const Volts& source : network.sources)
            made.source(source.plus, source.minus, exactly(source.volts), exactly(source.ohms));
        for (const Ohms& resistor : network.resistors)
            made.resistor(resistor.from, resistor.to, exactly(resistor.ohms));
        const Circuit& circuit = made.done();
        const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
        ASSERT_TRUE(point.has_value());
        EXPECT_LT(point->kirchhoff_residual, 1e-9);
        for (const Expected& expected : network.expected)
            EXPECT_NEAR(point->branch_current[expected.branch], expected.amperes, expected.tolerance)
                << "branch " << expected.branch;
    }
}

} // namespace
} // namespace trivet
