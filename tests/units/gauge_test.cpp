#include "units/parse.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace trivet {
namespace {

double area_mm2(const std::string& text) {
    const auto area = parse_quantity(text, dim::area);
    EXPECT_TRUE(area.has_value()) << text;
    return area ? area->si * 1e6 : 0.0;
}

double diameter_mm(const std::string& text) { return std::sqrt(area_mm2(text) * 4.0 / std::numbers::pi); }

// ASTM B258: the two sizes that define the series, 0.0050 in and 0.4600 in, exactly.
TEST(WireGauge, DefiningSizesAreExact) {
    EXPECT_NEAR(diameter_mm("36 AWG"), 0.1270, 1e-12);
    EXPECT_NEAR(diameter_mm("4/0 AWG"), 11.684, 1e-9);
    EXPECT_DOUBLE_EQ(area_mm2("0000 AWG"), area_mm2("4/0 AWG"));
}

// ASTM B258 as printed in a handbook wire table (NBS Handbook 100). Diameters there are rounded to 0.0001 in and areas
// to three figures, so 0.4 % and 0.5 % are the widest deviations that rounding alone explains.
TEST(WireGauge, AgreesWithThePublishedTable) {
    struct Row {
        int gauge;
        double diameter; // mm
        double area;     // mm²
    };
    const Row rows[] = {
        {10, 2.5883, 5.26},   {11, 2.3038, 4.17},  {12, 2.0523, 3.31},  {13, 1.8288, 2.62},  {14, 1.6281, 2.08},
        {15, 1.4503, 1.65},   {16, 1.2903, 1.31},  {17, 1.1506, 1.04},  {18, 1.0236, 0.823}, {19, 0.9119, 0.653},
        {20, 0.8128, 0.518},  {21, 0.7239, 0.41},  {22, 0.6452, 0.326}, {23, 0.5740, 0.258}, {24, 0.5105, 0.205},
        {25, 0.4547, 0.162},  {26, 0.4039, 0.129}, {27, 0.3607, 0.102}, {28, 0.3200, 0.081}, {29, 0.2870, 0.0642},
        {30, 0.2540, 0.0509},
    };
    for (const Row& row : rows) {
        const std::string text = std::to_string(row.gauge) + " AWG";
        EXPECT_NEAR(diameter_mm(text), row.diameter, 0.004 * row.diameter) << text;
        EXPECT_NEAR(area_mm2(text), row.area, 0.005 * row.area) << text;
    }
}

// Rules of thumb of ASTM B258: 39 steps span a diameter ratio of 92, so three sizes halve the area (92^(6/39) = 2.005).
TEST(WireGauge, ThreeSizesHalveTheArea) {
    EXPECT_NEAR(area_mm2("18 AWG") / area_mm2("21 AWG"), 2.005, 0.001);
    EXPECT_NEAR(diameter_mm("12 AWG") / diameter_mm("18 AWG"), 2.005, 0.001);
}

TEST(WireGauge, EverySpellingMeansTheSame) {
    EXPECT_DOUBLE_EQ(area_mm2("AWG 18"), area_mm2("18 AWG"));
    EXPECT_DOUBLE_EQ(area_mm2("AWG18"), area_mm2("18 AWG"));
    EXPECT_DOUBLE_EQ(area_mm2("18AWG"), area_mm2("18 AWG"));
    EXPECT_DOUBLE_EQ(area_mm2("AWG 2/0"), area_mm2("2/0 AWG"));
    EXPECT_DOUBLE_EQ(area_mm2("00 AWG"), area_mm2("2/0 AWG"));
    EXPECT_DOUBLE_EQ(area_mm2("1/0 AWG"), area_mm2("0 AWG"));
    EXPECT_GT(area_mm2("2/0 AWG"), area_mm2("0 AWG"));
}

TEST(WireGauge, RangesRunFromThinToThick) {
    const auto range = parse_range("18..16 AWG", dim::area);
    ASSERT_TRUE(range.has_value());
    EXPECT_NEAR(range->lo * 1e6, 0.823, 0.001);
    EXPECT_NEAR(range->hi * 1e6, 1.309, 0.001);
}

} // namespace
} // namespace trivet
