#include "catalog/element.h"
#include "electrical/conductor.h"
#include "published/published.h"

#include <cmath>
#include <numbers>

namespace trivet::published {
namespace {

using test::key;

using WireGauge = PublishedTables;

double diameter_mm(Area area) { return 1e3 * std::sqrt(4.0 * area.si / std::numbers::pi); }

struct Gauge {
    int gauge;
    double diameter_mm;
    double area_mm2;
    double ohm_per_km;
};

// ASTM B258 sizes; NBS Handbook 100 table 5, solid annealed copper at 20 °C, as printed in a handbook wire table. The
// print is rounded to 0.1 mil and three digits: within 0.4 % of the defining formula in diameter, 0.5 % in area.
TEST_F(WireGauge, SizesAndResistancesOfTheWireTable) {
    const Gauge rows[] = {
        {30, 0.254, 0.0509, 338.5},  {29, 0.287, 0.0642, 268.4},  {28, 0.32, 0.081, 212.87},
        {27, 0.3607, 0.102, 168.82}, {26, 0.4039, 0.129, 133.86}, {25, 0.4547, 0.162, 106.17},
        {24, 0.5105, 0.205, 84.2},   {23, 0.574, 0.258, 66.78},   {22, 0.6452, 0.326, 52.94},
        {21, 0.7239, 0.41, 41.98},   {20, 0.8128, 0.518, 33.29},  {19, 0.9119, 0.653, 26.41},
        {18, 1.0236, 0.823, 20.94},  {17, 1.1506, 1.04, 16.61},   {16, 1.2903, 1.31, 13.17},
        {15, 1.4503, 1.65, 10.44},   {14, 1.6281, 2.08, 8.28},    {13, 1.8288, 2.62, 6.57},
        {12, 2.0523, 3.31, 5.21},    {11, 2.3038, 4.17, 4.13},    {10, 2.5883, 5.26, 3.28},
    };
    for (const Gauge& row : rows) {
        const std::string what = std::to_string(row.gauge) + " AWG";
        expect_printed(diameter_mm(awg(row.gauge)), row.diameter_mm, 0.004 * row.diameter_mm, what);
        expect_printed(awg(row.gauge).si * 1e6, row.area_mm2, 0.005 * row.area_mm2, what);
        expect_same(value("awg-resistance", {key(awg(row.gauge))}) * 1e3, row.ohm_per_km, what);
    }
}

struct ThickGauge {
    int gauge;
    double diameter_mm;
    double circular_mils;
    double ohm_per_km; // two decimals are printed
};

// ASTM B258 sizes and copper at 20 °C, from two printed wire tables that continue the one above. A circular mil is the
// area of a circle of 0.001 in (0.0254 mm).
TEST_F(WireGauge, ThickSizes) {
    const ThickGauge rows[] = {
        {9, 2.9058, 13090, 2.60}, {8, 3.2639, 16510, 2.06}, {7, 3.6652, 20820, 1.63}, {6, 4.1148, 26250, 1.30}};
    for (const ThickGauge& row : rows) {
        const std::string what = std::to_string(row.gauge) + " AWG";
        const double area = row.circular_mils * 0.0254 * 0.0254 * std::numbers::pi / 4.0;
        expect_printed(diameter_mm(awg(row.gauge)), row.diameter_mm, 0.001 * row.diameter_mm, what);
        expect_printed(awg(row.gauge).si * 1e6, area, 0.001 * area, what);
        expect_same(value("awg-resistance", {key(awg(row.gauge))}) * 1e3, row.ohm_per_km, what);
    }
}

// ASTM B258: 36 AWG is 0.1270 mm and 4/0 AWG 11.684 mm by definition; three sizes halve the area, six the diameter, ten
// have ten times the resistance.
TEST_F(WireGauge, AnchorsAndRulesOfThumb) {
    expect_printed(diameter_mm(awg(36)), 0.1270, 1e-6, "36 AWG");
    expect_printed(diameter_mm({parse_quantity("4/0 AWG", dim::area)->si}), 11.684, 1e-5, "4/0 AWG");
    expect_printed(awg(18).si / awg(21).si, 2.005, 0.001, "three sizes, area");
    expect_printed(diameter_mm(awg(18)) / diameter_mm(awg(24)), 2.005, 0.001, "six sizes, diameter");
    expect_printed(awg(12).si / awg(22).si, 10.16, 0.01, "ten sizes, resistance");
}

// ASTM B258: the ratio of neighbouring diameters is the 39th root of 92.
TEST_F(WireGauge, RatiosFromMemory) {
    expect_remembered(diameter_mm(awg(17)) / diameter_mm(awg(18)), 1.122932, 1e-6, "diameters");
    expect_remembered(awg(17).si / awg(18).si, 1.260976, 1e-6, "areas");
}

struct AtSeventyFive {
    int gauge;
    double solid;
    double stranded;
};

// NEC chapter 9 table 8: ohm/km at 75 °C, uncoated, solid and seven strands. Three digits are printed.
TEST_F(WireGauge, ResistanceAtSeventyFiveDegrees) {
    for (const AtSeventyFive& row :
         {AtSeventyFive{18, 25.5, 26.1}, {16, 16.0, 16.4}, {14, 10.1, 10.3}, {12, 6.34, 6.50}}) {
        const double at_20 = value("awg-resistance", {key(awg(row.gauge))}) * 1e3;
        const double solid = at_temperature({at_20}, celsius(75.0)).si;
        expect_printed(solid, row.solid, 0.005 * row.solid, std::to_string(row.gauge) + " AWG solid");
        expect_printed(1.02 * solid, row.stranded, 0.007 * row.stranded, std::to_string(row.gauge) + " AWG stranded");
    }
}

struct Nominal {
    int gauge;
    double circular_mils;
};

// A boat-cable maker's appendix: circular mils behind its voltage-drop tables, rounded to 100.
TEST_F(WireGauge, CircularMilsOfDropTables) {
    for (const Nominal& row : {Nominal{18, 1600}, {14, 4100}, {12, 6500}, {8, 16800}}) {
        const double mils = awg(row.gauge).si * 1e6 / (0.0254 * 0.0254 * std::numbers::pi / 4.0);
        expect_printed(mils, row.circular_mils, 0.02 * row.circular_mils, std::to_string(row.gauge) + " AWG");
    }
}

} // namespace
} // namespace trivet::published
