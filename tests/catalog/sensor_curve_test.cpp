#include "catalog/sensor_curve.h"

#include <gtest/gtest.h>

#include <cmath>

namespace trivet {
namespace {

template <Dimension D> Given<D> given(Quantity<D> lo, Quantity<D> hi) { return {{lo, hi}, {}, Basis::typical}; }

ThermistorElement platinum(double lo, double hi, double reference_celsius = 0.0) {
    ThermistorElement made;
    made.curve = SensorCurve::platinum;
    made.resistance = given(Resistance{lo}, Resistance{hi});
    made.reference = given(celsius(reference_celsius), celsius(reference_celsius));
    made.range = given(celsius(-50.0), celsius(400.0));
    return made;
}

ThermistorElement ntc(double lo, double hi, double beta_lo, double beta_hi) {
    ThermistorElement made;
    made.curve = SensorCurve::ntc;
    made.resistance = given(Resistance{lo}, Resistance{hi});
    made.reference = given(celsius(25.0), celsius(25.0));
    made.beta = given(TemperatureDifference{beta_lo}, TemperatureDifference{beta_hi});
    made.range = given(celsius(-40.0), celsius(250.0));
    return made;
}

Range<dim::temperature> between(double lo, double hi) { return {celsius(lo), celsius(hi)}; }

TEST(PlatinumCurve, ComesBackFromEveryTemperature) {
    for (double t = -200.0; t <= 850.0; t += 0.5) {
        const auto ratio = platinum_ratio(celsius(t));
        ASSERT_TRUE(ratio.has_value()) << t;
        const auto back = platinum_temperature(*ratio);
        ASSERT_TRUE(back.has_value()) << t;
        EXPECT_NEAR(in_celsius(*back), t, 1e-8);
    }
}

TEST(PlatinumCurve, SaysNothingOutsideTheStandardsRange) {
    EXPECT_FALSE(platinum_ratio(celsius(-200.1)));
    EXPECT_FALSE(platinum_ratio(celsius(850.1)));
    EXPECT_FALSE(platinum_temperature(0.185));
    EXPECT_FALSE(platinum_temperature(3.905));
    EXPECT_FALSE(platinum_temperature(std::nan("")));
}

TEST(NtcCurve, ComesBackFromEveryTemperature) {
    for (double t = -60.0; t <= 350.0; t += 1.0) {
        const double ratio = ntc_ratio({3950.0}, celsius(25.0), celsius(t));
        EXPECT_NEAR(in_celsius(ntc_temperature({3950.0}, celsius(25.0), ratio).value()), t, 1e-9);
    }
    EXPECT_FALSE(ntc_temperature({3950.0}, celsius(25.0), 0.0));
    EXPECT_FALSE(ntc_temperature({3950.0}, celsius(25.0), 1e-9)); // hotter than any temperature
    EXPECT_FALSE(ntc_temperature({0.0}, celsius(25.0), 0.5));
}

TEST(SensorResistance, StaysInsideTheStatedRange) {
    EXPECT_TRUE(sensor_resistance(platinum(100, 100), between(-50, 400)));
    EXPECT_FALSE(sensor_resistance(platinum(100, 100), between(-51, 20)));
    EXPECT_FALSE(sensor_resistance(ntc(1e4, 1e4, 3950, 3950), between(20, 251)));
    ThermistorElement unstated = ntc(1e4, 1e4, 3950, 3950);
    unstated.range.reset();
    EXPECT_FALSE(sensor_resistance(unstated, between(25, 25)));
    ThermistorElement bare = platinum(100, 100);
    bare.range.reset(); // the standard's own range remains
    EXPECT_TRUE(sensor_resistance(bare, between(-200, 850)));
    EXPECT_FALSE(sensor_resistance(bare, between(-201, 20)));
}

TEST(SensorResistance, IsUnknownWithoutAllOfItsNumbers) {
    for (const int missing : {0, 1, 2}) {
        ThermistorElement sensor = ntc(1e4, 1e4, 3950, 3950);
        if (missing == 0) sensor.resistance.reset();
        if (missing == 1) sensor.reference.reset();
        if (missing == 2) sensor.beta.reset();
        EXPECT_FALSE(sensor_resistance(sensor, between(20, 30))) << missing;
        EXPECT_FALSE(sensor_temperature(sensor, {1e4})) << missing;
    }
    ThermistorElement ptc = platinum(100, 100);
    ptc.curve = SensorCurve::ptc;
    EXPECT_FALSE(sensor_resistance(ptc, between(20, 30)));
}

// Arithmetic on the two equations, each tolerance at the end that matters.
TEST(SensorResistance, TakesEveryToleranceAtItsWorseEnd) {
    const auto cold_to_hot = sensor_resistance(ntc(9900, 10100, 3910, 3990), between(0, 100)).value();
    const auto exponent = [](double beta, double t) { return beta * (1.0 / (t + 273.15) - 1.0 / 298.15); };
    EXPECT_NEAR(cold_to_hot.hi.si, 10100 * std::exp(exponent(3990, 0)), 1e-6);
    EXPECT_NEAR(cold_to_hot.lo.si, 9900 * std::exp(exponent(3990, 100)), 1e-9);
    const auto warm = sensor_resistance(ntc(9900, 10100, 3910, 3990), between(50, 100)).value();
    EXPECT_NEAR(warm.hi.si, 10100 * std::exp(exponent(3910, 50)), 1e-9);

    const auto both = sensor_resistance(platinum(99.9, 100.1), between(0, 100)).value();
    EXPECT_NEAR(both.lo.si, 99.9, 1e-9);
    EXPECT_NEAR(both.hi.si, 100.1 * 1.385055, 1e-9);
}

// IEC 60751: 107.79 ohm at 20 °C and 138.51 ohm at 100 °C.
TEST(SensorResistance, TakesAnyReferenceTemperature) {
    const auto hot = sensor_resistance(platinum(107.79, 107.79, 20.0), between(100, 100)).value();
    EXPECT_NEAR(hot.lo.si, 138.51, 0.01);
    EXPECT_FALSE(sensor_resistance(platinum(100, 100, 900.0), between(100, 100)));
}

TEST(SensorTemperature, IsARangeThatHoldsTheTruth) {
    for (const ThermistorElement& sensor : {ntc(9900, 10100, 3910, 3990), platinum(99.9, 100.1)}) {
        for (double t = -35.0; t < 240.0; t += 5.0) {
            const auto resistance = sensor_resistance(sensor, between(t, t)).value();
            for (const Resistance measured : {resistance.lo, resistance.middle(), resistance.hi}) {
                const auto found = sensor_temperature(sensor, measured);
                ASSERT_TRUE(found) << t;
                EXPECT_LE(in_celsius(found->lo), t + 1e-6);
                EXPECT_GE(in_celsius(found->hi), t - 1e-6);
                EXPECT_LT((found->hi - found->lo).si, 10.0) << t;
            }
        }
    }
}

TEST(SensorTemperature, EndsWhereTheSensorsRangeEnds) {
    const ThermistorElement sensor = ntc(1e4, 1e4, 3950, 3950);
    EXPECT_FALSE(sensor_temperature(sensor, {1e9}));
    EXPECT_FALSE(sensor_temperature(sensor, {1.0}));
    EXPECT_FALSE(sensor_temperature(sensor, {0.0}));
    EXPECT_FALSE(sensor_temperature(platinum(100, 100), {10.0}));
    EXPECT_FALSE(sensor_temperature(platinum(100, 100), {500.0}));
    const auto coldest = sensor_resistance(ntc(1e4, 1.2e4, 3950, 3950), between(-40, -40)).value();
    const auto found = sensor_temperature(ntc(1e4, 1.2e4, 3950, 3950), coldest.hi);
    ASSERT_TRUE(found);
    EXPECT_NEAR(in_celsius(found->hi), -40.0, 1e-6); // the lower end is cut
    EXPECT_NEAR(in_celsius(found->lo), -40.0, 1e-6);
}

} // namespace
} // namespace trivet
