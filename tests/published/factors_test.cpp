#include "published/published.h"

#include <cmath>

namespace trivet::published {
namespace {

using test::key;

using Factors = PublishedTables;

struct Ambient {
    double celsius;
    double factor;
};

// IEC 60204-1 table D.1, also DIN VDE 0298-4: PVC of 70 °C, reference 40 °C.
TEST_F(Factors, OfRoomsForMachineWiring) {
    for (const Ambient& row :
         {Ambient{30, 1.15}, {35, 1.08}, {40, 1.00}, {45, 0.91}, {50, 0.82}, {55, 0.71}, {60, 0.58}})
        expect_same(value("ambient-factor-40", {key(celsius(70.0)), key(celsius(row.celsius))}), row.factor,
                    label("°C", row.celsius));
}

// IEC 60364-5-52:2009 table B.52.14, PVC of 70 °C, reference 30 °C; 65 °C from BS 7671 table 4B1.
TEST_F(Factors, OfRoomsForPvc) {
    for (const Ambient& row :
         {Ambient{30, 1.00}, {35, 0.94}, {40, 0.87}, {45, 0.79}, {50, 0.71}, {55, 0.61}, {60, 0.50}, {65, 0.35}})
        expect_same(value("ambient-factor-30", {key(celsius(70.0)), key(celsius(row.celsius))}), row.factor,
                    label("°C", row.celsius));
}

// IEC 60364-5-52:2009 table B.52.14, XLPE and EPR of 90 °C, reference 30 °C.
TEST_F(Factors, OfRoomsForCrosslinkedInsulation) {
    for (const Ambient& row : {Ambient{30, 1.00},
                               {35, 0.96},
                               {40, 0.91},
                               {45, 0.87},
                               {50, 0.82},
                               {55, 0.76},
                               {60, 0.71},
                               {65, 0.65},
                               {70, 0.58},
                               {75, 0.50},
                               {80, 0.41}})
        expect_same(value("ambient-factor-30", {key(celsius(90.0)), key(celsius(row.celsius))}), row.factor,
                    label("°C", row.celsius));
}

// BS 7671: 85 °C for 90 °C insulation. Below 30 °C the standards allow more; the project never counts it.
TEST_F(Factors, OfVeryWarmAndCoolRoomsFromMemory) {
    expect_remembered(value("ambient-factor-30", {key(celsius(90.0)), key(celsius(85.0))}), 0.29, 1e-9, "85 °C");
    for (const Ambient& row : {Ambient{10, 1.22}, {15, 1.17}, {20, 1.12}, {25, 1.06}})
        EXPECT_LT(value("ambient-factor-30", {key(celsius(70.0)), key(celsius(row.celsius))}), row.factor);
    for (const Ambient& row : {Ambient{10, 1.15}, {15, 1.12}, {20, 1.08}, {25, 1.04}})
        EXPECT_LT(value("ambient-factor-30", {key(celsius(90.0)), key(celsius(row.celsius))}), row.factor);
}

// What the rules use where no factor is printed: IEC 60287's root of the permitted temperature rise.
// Checked here against print, but not counted: the formula itself stands in rules/wire/lets.toml.
double root_of_rise(double highest, double reference, double room) {
    return std::sqrt((highest - room) / (highest - reference));
}

// BS 7671 table 4F2A, note: flexible cords of 180 °C rubber, whose currents keep the conductor at 150 °C in air of 90
// °C.
TEST_F(Factors, OfHotCordsFollowTheRootOfTheRise) {
    for (const Ambient& row : {Ambient{95, 0.96},
                               {100, 0.91},
                               {105, 0.86},
                               {110, 0.81},
                               {120, 0.70},
                               {125, 0.64},
                               {130, 0.57},
                               {135, 0.50},
                               {140, 0.40},
                               {145, 0.28}})
        EXPECT_NEAR(root_of_rise(150.0, 90.0, row.celsius), row.factor, 0.011) << row.celsius;
}

// 33 CFR 183.425 table 5 note 1: engine spaces, 50 °C, 105 °C insulation.
TEST_F(Factors, OfEngineSpacesFollowTheRootOfTheRise) { EXPECT_NEAR(root_of_rise(105.0, 30.0, 50.0), 0.85, 0.011); }

TEST_F(Factors, OfEngineSpacesForOtherInsulationFromMemory) {
    for (const Ambient& row : {Ambient{60, 0.58}, {75, 0.75}, {80, 0.78}, {90, 0.82}, {125, 0.89}})
        expect_remembered(root_of_rise(row.celsius, 30.0, 50.0), row.factor, 0.011, label("class", row.celsius));
}

struct Bundle {
    double circuits;
    double factor;
};

// IEC 60364-5-52:2009 table B.52.17 item 1 (BS 7671 table 4C1): bunched in air, on a surface or enclosed.
TEST_F(Factors, OfBundles) {
    for (const Bundle& row :
         {Bundle{2, 0.80}, {3, 0.70}, {4, 0.65}, {6, 0.57}, {9, 0.50}, {12, 0.45}, {16, 0.41}, {20, 0.38}})
        expect_same(value("grouping-factor", {key(row.circuits)}), row.factor, label("circuits", row.circuits));
}

TEST_F(Factors, OfOtherBundlesFromMemory) {
    for (const Bundle& row : {Bundle{1, 1.00}, {5, 0.60}, {7, 0.54}, {8, 0.52}})
        expect_remembered(value("grouping-factor", {key(row.circuits)}), row.factor, 1e-9,
                          label("circuits", row.circuits));
}

// IEC 60364-5-52 clause B.52.5: F = 1 / sqrt(n) for mixed sizes, the safe side of the table. The project's rows beyond
// 20 circuits are that, rounded down.
TEST_F(Factors, OfLargeBundlesAreTheSafeFormula) {
    for (const double circuits : {25.0, 30.0, 40.0, 60.0, 100.0, 200.0, 500.0, 1000.0}) {
        const double formula = 1.0 / std::sqrt(circuits);
        const double found = value("grouping-factor", {key(circuits)});
        EXPECT_LE(found, formula + 1e-9) << circuits;
        EXPECT_GT(found, formula - 0.01) << circuits;
    }
}

} // namespace
} // namespace trivet::published
