#include "units/parse.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <new>
#include <span>
#include <string>

namespace {

// Counted per program: proves that reading a good quantity touches no memory.
long allocations = 0;

} // namespace

void* operator new(std::size_t bytes) {
    ++allocations;
    if (void* memory = std::malloc(bytes)) return memory;
    throw std::bad_alloc();
}
[[gnu::noinline]] void operator delete(void* memory) noexcept { std::free(memory); }
[[gnu::noinline]] void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

namespace trivet {
namespace {

struct Good {
    const char* text;
    Dimension dimension;
    double lo;
    double hi;
};

constexpr Dimension transfer = dim::thermal_conductance / dim::area;

// SI values by arithmetic; the inch is 25.4 mm and the foot 0.3048 m by definition (international yard, 1959);
// °F by t/°C = (t/°F - 32) * 5/9; 1 Wh = 3600 J, 1 Ah = 3600 C.
const Good single_values[] = {
    {"24 V", dim::voltage, 24, 24},
    {"24V", dim::voltage, 24, 24},
    {"  24\tV ", dim::voltage, 24, 24},
    {"24\u00a0V", dim::voltage, 24, 24},
    {"+5 V", dim::voltage, 5, 5},
    {"-5 V", dim::voltage, -5, -5},
    {"\u22125 V", dim::voltage, -5, -5},
    {"2.4e1 V", dim::voltage, 24, 24},
    {"95 mV", dim::voltage, 0.095, 0.095},
    {"1.5 kV", dim::voltage, 1500, 1500},
    {"9 mA", dim::current, 0.009, 0.009},
    {"12 uA", dim::current, 12e-6, 12e-6},
    {"12 \u00b5A", dim::current, 12e-6, 12e-6},
    {"12 \u03bcA", dim::current, 12e-6, 12e-6},
    {"250 mW", dim::power, 0.25, 0.25},
    {"1.2 kW", dim::power, 1200, 1200},
    {"9.6 ohm", dim::resistance, 9.6, 9.6},
    {"9.6 \u03a9", dim::resistance, 9.6, 9.6},
    {"9.6 \u2126", dim::resistance, 9.6, 9.6},
    {"20 mohm", dim::resistance, 0.02, 0.02},
    {"20 m\u03a9", dim::resistance, 0.02, 0.02},
    {"100 kohm", dim::resistance, 1e5, 1e5},
    {"100 k\u2126", dim::resistance, 1e5, 1e5},
    {"1 Mohm", dim::resistance, 1e6, 1e6},
    {"25 cm", dim::length, 0.25, 0.25},
    {"3 mm", dim::length, 0.003, 0.003},
    {"35 um", dim::length, 35e-6, 35e-6},
    {"1 in", dim::length, 0.0254, 0.0254},
    {"1 inch", dim::length, 0.0254, 0.0254},
    {"3 ft", dim::length, 0.9144, 0.9144},
    {"0.75 mm2", dim::area, 0.75e-6, 0.75e-6},
    {"0.75 mm\u00b2", dim::area, 0.75e-6, 0.75e-6},
    {"0.75 mm^2", dim::area, 0.75e-6, 0.75e-6},
    {"4 cm2", dim::area, 4e-4, 4e-4},
    {"0.045 m2", dim::area, 0.045, 0.045},
    {"220 g", dim::mass, 0.22, 0.22},
    {"1.3 kg", dim::mass, 1.3, 1.3},
    {"10 ms", dim::time, 0.01, 0.01},
    {"2 min", dim::time, 120, 120},
    {"1 h", dim::time, 3600, 3600},
    {"100 kHz", dim::frequency, 1e5, 1e5},
    {"1 MHz", dim::frequency, 1e6, 1e6},
    {"75 \u00b0C", dim::temperature, 348.15, 348.15},
    {"75 degC", dim::temperature, 348.15, 348.15},
    {"75 \u2103", dim::temperature, 348.15, 348.15},
    {"167 \u00b0F", dim::temperature, 348.15, 348.15},
    {"167 degF", dim::temperature, 348.15, 348.15},
    {"348.15 K", dim::temperature, 348.15, 348.15},
    {"-40 degF", dim::temperature, 233.15, 233.15},
    {"2 K", dim::temperature_difference, 2, 2},
    {"2 \u00b0C", dim::temperature_difference, 2, 2},
    {"3.6 degF", dim::temperature_difference, 2, 2},
    {"1 Wh", dim::energy, 3600, 3600},
    {"0.5 kWh", dim::energy, 1.8e6, 1.8e6},
    {"12 kJ", dim::energy, 12000, 12000},
    {"2200 mAh", dim::charge, 7920, 7920},
    {"470 \u00b5F", dim::capacitance, 470e-6, 470e-6},
    {"100 nF", dim::capacitance, 1e-7, 1e-7},
    {"22 pF", dim::capacitance, 22e-12, 22e-12},
    {"1 F", dim::capacitance, 1, 1},
    {"33 uH", dim::inductance, 33e-6, 33e-6},
    {"80 %", dim::number, 0.8, 0.8},
    {"80%", dim::number, 0.8, 0.8},
    {"0.85", dim::number, 0.85, 0.85},
    {"100000", dim::number, 1e5, 1e5},
    {"3 K/W", dim::thermal_resistance, 3, 3},
    {"3 \u00b0C/W", dim::thermal_resistance, 3, 3},
    {"3 W/K", dim::thermal_conductance, 3, 3},
    {"200 J/K", dim::heat_capacity, 200, 200},
    {"1.5 m/s", dim::speed, 1.5, 1.5},
    {"36 m/min", dim::speed, 0.6, 0.6},
    {"900 J/(kg K)", dim::specific_heat, 900, 900},
    {"0.9 kJ/(kg*K)", dim::specific_heat, 900, 900},
    {"900 J/kg/K", dim::specific_heat, 900, 900},
    {"0.2 W/(m K)", dim::conductivity, 0.2, 0.2},
    {"0.2 W/(m\u00b7K)", dim::conductivity, 0.2, 0.2},
    {"5 W/(m\u00b2 K)", transfer, 5, 5},
    {"0.0039 1/K", dim::per_kelvin, 0.0039, 0.0039},
    {"0.39 %/K", dim::per_kelvin, 0.0039, 0.0039},
    {"50 ppm/K", dim::per_kelvin, 50e-6, 50e-6},
    {"12 ohm/m", dim::resistance_per_length, 12, 12},
    {"19.5 ohm/km", dim::resistance_per_length, 0.0195, 0.0195},
    {"19.5 mohm/m", dim::resistance_per_length, 0.0195, 0.0195},
    {"100 A2s", dim::joule_integral, 100, 100},
    {"100 A\u00b2s", dim::joule_integral, 100, 100},
    {"100 A^2 s", dim::joule_integral, 100, 100},
    {"13225 A\u00b2s/mm\u2074", dim::withstand_density, 13225e12, 13225e12},
    {"2700 kg/m3", dim::density, 2700, 2700},
    {"200 kJ/kg", dim::specific_energy, 2e5, 2e5},
};

const Good ranges[] = {
    {"9.3..9.7 ohm", dim::resistance, 9.3, 9.7},
    {"9.3 ohm..9.7 ohm", dim::resistance, 9.3, 9.7},
    {"9.3 .. 9.7 ohm", dim::resistance, 9.3, 9.7},
    {"9..10 ohm", dim::resistance, 9, 10},
    {"500 mV..1 V", dim::voltage, 0.5, 1},
    {"-10..35 \u00b0C", dim::temperature, 263.15, 308.15},
    {"-10..-5 degC", dim::temperature, 263.15, 268.15},
    {"0.85..0.92", dim::number, 0.85, 0.92},
    {"80..90 %", dim::number, 0.8, 0.9},
    {"5 V \u00b12 %", dim::voltage, 4.9, 5.1},
    {"5 V\u00b12%", dim::voltage, 4.9, 5.1},
    {"-5 V \u00b12 %", dim::voltage, -5.1, -4.9},
    {"100 kohm +-1 %", dim::resistance, 99e3, 101e3},
    {"5 V +/- 0.1 V", dim::voltage, 4.9, 5.1},
    {"5 V +/- 100 mV", dim::voltage, 4.9, 5.1},
    {"5 V +5/-3 %", dim::voltage, 4.85, 5.25},
    {"0.8 \u00b10.1", dim::number, 0.7, 0.9},
    {"0.8 \u00b15 %", dim::number, 0.76, 0.84},
    {"75 \u00b0C \u00b13 K", dim::temperature, 345.15, 351.15},
    {"75 \u00b0C \u00b13 \u00b0C", dim::temperature, 345.15, 351.15},
    {"110 \u00b0C +0/-10 K", dim::temperature, 373.15, 383.15},
    {"110 \u00b0C -10/+0 K", dim::temperature, 373.15, 383.15},
    {"110 \u00b0C +0 K/-10 K", dim::temperature, 373.15, 383.15},
};

void expect_reads(std::span<const Good> rows) {
    for (const Good& row : rows) {
        const auto range = parse_range(row.text, row.dimension);
        ASSERT_TRUE(range.has_value()) << row.text << ": " << range.error().message;
        EXPECT_DOUBLE_EQ(range->lo, row.lo) << row.text;
        EXPECT_DOUBLE_EQ(range->hi, row.hi) << row.text;
        EXPECT_EQ(range->dimension, row.dimension) << row.text;
    }
}

TEST(ParseRange, ReadsSingleValues) { expect_reads(single_values); }

TEST(ParseRange, ReadsRangesAndTolerances) { expect_reads(ranges); }

TEST(ParseRange, TakesNoMemoryForGoodText) {
    const long before = allocations;
    bool all_good = true;
    for (const Good& row : single_values) all_good = parse_range(row.text, row.dimension).has_value() && all_good;
    for (const Good& row : ranges) all_good = parse_range(row.text, row.dimension).has_value() && all_good;
    const long after = allocations;
    EXPECT_TRUE(all_good);
    EXPECT_EQ(after, before);
}

TEST(ParseQuantity, AcceptsOneValueOnly) {
    EXPECT_EQ(parse_quantity("5 V", dim::voltage)->si, 5.0);
    for (const char* text : {"5..6 V", "5 V..5 V", "5 V \u00b12 %", "5 V +0/-0 V"}) {
        const auto quantity = parse_quantity(text, dim::voltage);
        ASSERT_FALSE(quantity.has_value()) << text;
        EXPECT_NE(quantity.error().message.find("is a range"), std::string::npos) << quantity.error().message;
    }
}

TEST(ParseRating, ReadsCurrentAndVoltage) {
    EXPECT_EQ(*parse_rating("10 A at 30 V"), (CurrentAtVoltage{{10}, {30}, false}));
    EXPECT_EQ(*parse_rating("3 A at 30 V DC"), (CurrentAtVoltage{{3}, {30}, false}));
    EXPECT_EQ(*parse_rating("500 mA at 110 V DC"), (CurrentAtVoltage{{0.5}, {110}, false}));
    EXPECT_EQ(*parse_rating("10 A at 250 V AC"), (CurrentAtVoltage{{10}, {250}, true}));
    EXPECT_EQ(*parse_rating("10 A at 250 VAC"), (CurrentAtVoltage{{10}, {250}, true}));
}

TEST(ParseRating, RefusesWhatCouldMeanTwoThings) {
    struct Bad {
        const char* text;
        std::size_t offset;
        const char* message;
    };
    const Bad rows[] = {
        {"10 A", 0, "up to which voltage"},       {"10 A at 250 V", 8, "AC or DC"},
        {"10 A at 30", 8, "30 has no unit"},      {"10 V at 30 V", 0, "a current was expected"},
        {"0 A at 30 V", 0, "above zero"},         {"-1 A at 30 V", 0, "above zero"},
        {"10 A at ", 8, "a number is missing"},   {"1..2 A at 30 V", 0, "is a range"},
        {"10 A at 30 V AC DC", 13, "not a unit"},
    };
    for (const Bad& row : rows) {
        const auto rating = parse_rating(row.text);
        ASSERT_FALSE(rating.has_value()) << row.text;
        EXPECT_NE(rating.error().message.find(row.message), std::string::npos)
            << row.text << ": " << rating.error().message;
        EXPECT_EQ(rating.error().offset, row.offset) << row.text;
    }
}

} // namespace
} // namespace trivet
