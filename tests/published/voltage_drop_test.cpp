#include "circuit/branch_values.h"
#include "electrical/conductor.h"
#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"
#include "published/published.h"
#include "support/design_builder.h"

#include <numbers>
#include <vector>

namespace trivet::published {
namespace {

using test::key;
using trivet::testing::exactly;
using trivet::testing::HandCircuit;

class VoltageDrop : public PublishedTables {
protected:
    double ohm_per_metre(int gauge) const { return value("awg-resistance", {key(awg(gauge))}); }
};

// Volts over a load of constant current at the end of one loop of wire.
double volts_at_load(double feed, double loop_ohms, double amperes) {
    HandCircuit made;
    made.source(1, 0, exactly(feed));
    made.wire(1, 2, exactly(loop_ohms));
    const BranchId load = made.load(2, 0, LoadBehaviour::constant_current, exactly(amperes), feed);
    const Circuit& circuit = made.done();
    const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
    EXPECT_TRUE(point.has_value());
    const Branch& branch = circuit.branches[load.value];
    return point ? point->node_voltage[branch.from.value] - point->node_voltage[branch.to.value] : 0.0;
}

constexpr double foot = 0.3048;

// A wire maker's worked example: a pump of 10 A, 11 ft out and 10 ft back, 12 V. 3 % need 12 AWG; with 10 %, in another
// catalogue, 16 AWG is enough. Only even sizes are sold.
TEST_F(VoltageDrop, SmallestWireOfTheWorkedExample) {
    const auto thinnest = [&](double share) {
        for (int gauge = 18; gauge >= 6; gauge -= 2) {
            const double left = volts_at_load(12.0, 21.0 * foot * ohm_per_metre(gauge), 10.0);
            if (left >= 12.0 * (1.0 - share)) return gauge;
        }
        return 0;
    };
    expect_printed(thinnest(0.03), 12, 0.0, "3 %");
    expect_printed(thinnest(0.10), 16, 0.0, "10 %");
}

// A boat wiring note: 1.6 A over 22 m of 1.5 mm² lose 0.38 V, with its optimistic 0.0164 ohm mm²/m.
TEST_F(VoltageDrop, BoatWiringNote) {
    expect_printed(12.0 - volts_at_load(12.0, 0.0164 * 22.0 / 1.5, 1.6), 0.38, 0.006, "V");
}

// Grob's Basic Electronics, example 11-4: 100 ft of No. 23 have 2.04 ohm.
TEST_F(VoltageDrop, HundredFeetOfNumber23) { expect_printed(100.0 * foot * ohm_per_metre(23), 2.04, 0.005, "ohm"); }

// J. O. Bird, Electrical Circuit Theory and Technology, chapter 3 problem 7: 1.2 km of 12 mm wire, 1.7e-8 ohm m.
TEST_F(VoltageDrop, LongThickWire) {
    DesignBuilder build;
    build.supply("supply", volts(12.0));
    const WireId id = build.wire("supply.+ -> supply.-", 1200.0, 36.0 * std::numbers::pi);
    const auto from_resistivity = [](const WireElement& wire) {
        return std::optional(ResistancePerLength{1.7e-8 / wire.area->range.lo.si});
    };
    const Parameter resistance = wire_resistance(build.design().wire(id), build.design(), from_resistivity);
    expect_printed(resistance.lo, 0.180, 0.0005, "ohm"); // in air of 20 °C
}

struct Tap {
    double metres;
    double amperes;
    double volts;
};

struct Distributor {
    const char* name;
    double feed;
    double loop_ohms_per_metre;
    std::vector<Tap> taps;
    double within;
};

// V. K. Mehta and R. Mehta, Principles of Power System, examples 13.1, 13.3 and 13.4, out and return lumped together.
TEST_F(VoltageDrop, DistributorsOfTheTextbook) {
    const Distributor distributors[] = {
        {"13.1", 300, 2e-5, {{500, 100, 295}, {1000, 150, 291}, {1600, 200, 288}, {2000, 50, 287.6}}, 1e-3},
        {"13.3", 600, 0.28e-3, {{2000, 40, 566.4}, {6000, 20, 544}}, 1e-3},
        {"13.4", 250, 2 * 1.78e-8 / 0.27e-4, {{75, 12, 245.35}, {175, 15, 240.73}, {225, 20, 239.41}}, 1e-2}};
    for (const Distributor& line : distributors) {
        HandCircuit made;
        made.source(1, 0, exactly(line.feed));
        double at = 0.0;
        std::uint32_t node = 1;
        for (const Tap& tap : line.taps) {
            made.wire(node, node + 1, exactly(line.loop_ohms_per_metre * (tap.metres - at)));
            made.load(++node, 0, LoadBehaviour::constant_current, exactly(tap.amperes), line.feed);
            at = tap.metres;
        }
        const Circuit& circuit = made.done();
        const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
        ASSERT_TRUE(point.has_value()) << line.name;
        for (std::size_t i = 0; i < line.taps.size(); ++i)
            expect_printed(point->node_voltage[i + 2] - point->node_voltage[0], line.taps[i].volts, line.within,
                           label(line.name, line.taps[i].metres));
    }
}

} // namespace
} // namespace trivet::published
