#include "units/range.h"

#include <gtest/gtest.h>

#include <type_traits>

namespace trivet {
namespace {

// The dimensions of derived quantities by their definitions (SI brochure, tables 4 and 5).
static_assert(dim::power == dim::energy / dim::time);
static_assert(dim::voltage * dim::current == dim::power);
static_assert(dim::resistance * dim::current == dim::voltage);
static_assert(dim::capacitance * dim::voltage == dim::charge);
static_assert(dim::resistance * dim::capacitance == dim::time);
static_assert(dim::inductance / dim::resistance == dim::time);
static_assert(dim::joule_integral * dim::resistance == dim::energy);
static_assert(dim::withstand_density * dim::area * dim::area == dim::joule_integral);
static_assert(dim::thermal_resistance * dim::power == dim::temperature_difference);
static_assert(dim::heat_capacity * dim::thermal_resistance == dim::time);
static_assert(dim::temperature != dim::temperature_difference);
static_assert(dim::temperature * dim::number == dim::temperature_difference);

// A point moves by a difference, two points differ by a difference.
static_assert(std::is_same_v<decltype(celsius(75) + TemperatureDifference{2}), Temperature>);
static_assert(std::is_same_v<decltype(TemperatureDifference{2} + celsius(75)), Temperature>);
static_assert(std::is_same_v<decltype(celsius(75) - TemperatureDifference{2}), Temperature>);
static_assert(std::is_same_v<decltype(celsius(75) - celsius(20)), TemperatureDifference>);
static_assert(std::is_same_v<decltype(TemperatureDifference{3} - TemperatureDifference{2}), TemperatureDifference>);
static_assert((celsius(75) - celsius(20)).si == 55.0);
static_assert(in_celsius(celsius(75)) == 75.0);

static_assert((Voltage{24} / Resistance{9.6}).si == 2.5);
static_assert(std::is_same_v<decltype(Voltage{24} / Resistance{9.6}), Current>);
static_assert(std::is_same_v<decltype(Voltage{24} * Current{2.5}), Power>);
static_assert((2.0 * Current{3} - Current{1}).si == 5.0);
static_assert(Voltage{5} < Voltage{24});

TEST(Quantity, JoinsRangesToTheWiderOne) {
    const Range<dim::voltage> a{{4.9}, {5.1}};
    const Range<dim::voltage> b{{5.0}, {5.3}};
    EXPECT_EQ(joined(a, b), (Range<dim::voltage>{{4.9}, {5.3}}));
    EXPECT_TRUE(joined(a, b).contains({5.2}));
    EXPECT_FALSE(a.contains({5.2}));
    EXPECT_FALSE(a.is_point());
    EXPECT_TRUE(exactly(Voltage{5}).is_point());
    EXPECT_DOUBLE_EQ(a.middle().si, 5.0);
    EXPECT_EQ(any(a), (AnyRange{4.9, 5.1, dim::voltage}));
    EXPECT_EQ(any(Voltage{5}), (AnyQuantity{5.0, dim::voltage}));
}

} // namespace
} // namespace trivet
