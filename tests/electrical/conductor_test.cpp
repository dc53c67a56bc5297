#include "electrical/conductor.h"

#include "tables/handbook.h"
#include "units/parse.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

namespace trivet {
namespace {

class ConductorTest : public testing::Test {
protected:
    std::optional<double> ohm_per_km(Area area, std::string conductor_class) const {
        WireElement wire;
        wire.area = Given<dim::area>{{area, area}, {}, Basis::standard};
        wire.conductor_class = std::move(conductor_class);
        const auto found = resistance_per_length(wire, handbook_);
        if (!found) return std::nullopt;
        return found->si * 1000.0;
    }

    const Handbook handbook_ = test::shipped_handbook();
};

constexpr Area mm2(double area) { return {area * 1e-6}; }
Area awg(int gauge) { return {parse_quantity(std::to_string(gauge) + " AWG", dim::area)->si}; }

// IEC 60228:2004 tables 2 and 3, plain copper at 20 °C; DIN VDE 0295 below 0.5 mm².
TEST_F(ConductorTest, PrintedAreasHaveThePrintedResistance) {
    const struct {
        double area;
        const char* conductor_class;
        double ohm_per_km;
    } rows[] = {{0.14, "class 5", 134.0}, {0.34, "class 5", 53.0}, {0.5, "class 5", 39.0}, {0.75, "class 5", 26.0},
                {1.0, "class 5", 19.5},   {1.5, "class 5", 13.3},  {2.5, "class 5", 7.98}, {0.5, "class 2", 36.0},
                {1.0, "class 2", 18.1},   {1.5, "class 2", 12.1},  {6.0, "class 2", 3.08}, {16.0, "class 5", 1.21}};
    for (const auto& row : rows)
        EXPECT_DOUBLE_EQ(ohm_per_km(mm2(row.area), row.conductor_class).value(), row.ohm_per_km) << row.area;
}

// Common practice, no source: wire sold without a conductor class is flexible hook-up wire.
TEST_F(ConductorTest, WireWithoutClassIsFlexible) { EXPECT_DOUBLE_EQ(ohm_per_km(mm2(1.0), "").value(), 19.5); }

// Between two printed areas the resistance lies between theirs, and no wire is better than its copper: 1/58 ohm mm²/m
// (IEC 60028).
TEST_F(ConductorTest, AreasBetweenTwoRowsLieBetweenThem) {
    for (const double area : {0.2, 0.3, 0.6, 0.8, 1.2, 2.0, 3.0, 5.0, 8.0, 12.0}) {
        const double found = ohm_per_km(mm2(area), "class 5").value();
        EXPECT_GT(found, 1000.0 / 58.0 / area) << area;
        EXPECT_GT(ohm_per_km(mm2(area * 0.95), "class 5").value(), found) << area;
        EXPECT_LT(ohm_per_km(mm2(area * 1.05), "class 5").value(), found) << area;
    }
}

// NBS Handbook 100 table 5, sizes of ASTM B258: solid annealed copper at 20 °C. Sizes too thin for the metric table are
// taken from there; the others may have what the metric standard allows for their area.
TEST_F(ConductorTest, SolidGaugeSizesAreThoseOfTheWireTable) {
    EXPECT_DOUBLE_EQ(ohm_per_km(awg(30), "class 1").value(), 338.5);
    EXPECT_DOUBLE_EQ(ohm_per_km(awg(26), "class 1").value(), 133.86);
    EXPECT_DOUBLE_EQ(ohm_per_km(awg(24), "class 1").value(), 84.2);
    const struct {
        int gauge;
        double ohm_per_km;
    } rows[] = {{20, 33.29}, {18, 20.94}, {16, 13.17}, {14, 8.28}, {12, 5.21}, {10, 3.28}};
    for (const auto& row : rows) {
        const double found = ohm_per_km(awg(row.gauge), "class 1").value();
        EXPECT_GT(found, row.ohm_per_km) << row.gauge << " AWG";
        EXPECT_LT(found, row.ohm_per_km * 1.10) << row.gauge << " AWG";
    }
}

// NEC chapter 9 table 8 at 75 °C, uncoated: solid and seven strands of 18 AWG have 25.5 and 26.1 ohm/km.
TEST_F(ConductorTest, StrandsAddTwoPercent) {
    EXPECT_NEAR(ohm_per_km(awg(28), "class 5").value() / ohm_per_km(awg(28), "class 1").value(), 26.1 / 25.5, 0.005);
}

TEST_F(ConductorTest, TooThinOrUnknownHasNoResistance) {
    EXPECT_FALSE(ohm_per_km(awg(36), "class 5"));
    EXPECT_FALSE(resistance_per_length(WireElement{}, handbook_));
    EXPECT_FALSE(resistance_per_length(WireElement{}, Handbook{}));
}

// An area known as a range counts with its thin end, which has more resistance.
TEST_F(ConductorTest, RangeOfAreasCountsWithItsThinEnd) {
    WireElement wire;
    wire.area = Given<dim::area>{{mm2(1.0), mm2(1.5)}, {}, Basis::typical};
    EXPECT_DOUBLE_EQ(resistance_per_length(wire, handbook_)->si, 0.0195);
}

// IEC 60228 annex: factors kt that bring a measured resistance back to 20 °C. The printed ones are those of a
// coefficient of 0.004/K, 250/(230 + t), up to 0.4 % away from the annex's own formula for copper, 254.5/(234.5 + t).
TEST(CopperTemperature, FactorsOfTheConductorStandard) {
    const struct {
        double celsius;
        double factor;
    } rows[] = {{5, 1.064},  {10, 1.042}, {15, 1.020}, {20, 1.000}, {25, 0.980}, {30, 0.962},
                {35, 0.943}, {40, 0.926}, {45, 0.909}, {50, 0.893}, {55, 0.877}, {60, 0.862},
                {65, 0.847}, {70, 0.833}, {75, 0.820}, {80, 0.806}, {85, 0.794}, {90, 0.781}};
    for (const auto& row : rows) {
        const double measured = at_temperature(Resistance{1.0}, celsius(row.celsius)).si;
        EXPECT_NEAR(measured * row.factor, 1.0, 0.005) << row.celsius << " °C";
        EXPECT_NEAR(measured * 254.5 / (234.5 + row.celsius), 1.0, 0.0001) << row.celsius << " °C";
    }
}

// J. O. Bird, Electrical Circuit Theory and Technology, chapter 3 problem 11: 10 ohm at 20 °C with a coefficient of
// 0.004/K have 13.2 ohm at 100 °C. Copper's 0.00393/K gives 13.144.
TEST(CopperTemperature, TextbookCoil) {
    EXPECT_NEAR(at_temperature(Resistance{10.0}, celsius(100.0)).si, 13.2, 0.06);
    EXPECT_DOUBLE_EQ(at_temperature(Resistance{10.0}, celsius(20.0)).si, 10.0);
}

// NEC chapter 9 table 8: 18, 16, 14 and 12 AWG solid uncoated copper at 75 °C, against NBS Handbook 100 at 20 °C. The
// NEC prints three digits.
TEST(CopperTemperature, TwoHandbooksAgree) {
    const struct {
        double at_20;
        double at_75;
    } rows[] = {{20.94, 25.5}, {13.17, 16.0}, {8.28, 10.1}, {5.21, 6.34}};
    for (const auto& row : rows)
        EXPECT_NEAR(at_temperature(Resistance{row.at_20}, celsius(75.0)).si / row.at_75, 1.0, 0.006) << row.at_20;
}

} // namespace
} // namespace trivet
