#include "catalog/sensor_curve.h"
#include "published/published.h"

#include <iterator>

namespace trivet::published {
namespace {

// IEC 60751 table 1: Pt100 every 10 °C from -200 °C on, as printed by two sensor makers (one misprints -160 °C). A
// much-copied web table is an older curve: it has 138.50 ohm at 100 °C.
constexpr double coldest = -200.0;
constexpr double ohms[] = {18.52,  22.83,  27.10,  31.34,  35.54,  39.72,  43.88,  48.00,  52.11,  56.19,  // -200
                           60.26,  64.30,  68.33,  72.33,  76.33,  80.31,  84.27,  88.22,  92.16,  96.09,  // -100
                           100.00, 103.90, 107.79, 111.67, 115.54, 119.40, 123.24, 127.08, 130.90, 134.71, // 0
                           138.51, 142.29, 146.07, 149.83, 153.58, 157.33, 161.05, 164.77, 168.48, 172.17, // 100
                           175.86, 179.53, 183.19, 186.84, 190.47, 194.10, 197.71, 201.31, 204.90, 208.48, // 200
                           212.05, 215.61, 219.15, 222.68, 226.21, 229.72, 233.21, 236.70, 240.18, 243.64, // 300
                           247.09, 250.53, 253.96, 257.38, 260.78, 264.18, 267.56, 270.93, 274.29, 277.64, // 400
                           280.98, 284.30, 287.62, 290.92, 294.21, 297.49, 300.75, 304.01, 307.25, 310.49, // 500
                           313.71};                                                                        // 600

constexpr double rounding = 0.00501;

TEST(Platinum, ResistancesOfTheStandardsTable) {
    for (std::size_t i = 0; i < std::size(ohms); ++i) {
        const double t = coldest + 10.0 * static_cast<double>(i);
        expect_printed(100.0 * platinum_ratio(celsius(t)).value(), ohms[i], rounding, label("°C", t));
    }
    expect_printed(100.0 * platinum_ratio(celsius(850.0)).value(), 390.48, rounding, "850 °C");
}

// The same table read the other way: a hundredth of an ohm is 0.025 to 0.03 K.
TEST(Platinum, TemperaturesOfTheStandardsTable) {
    for (std::size_t i = 0; i < std::size(ohms); ++i) {
        if (i == 0) continue; // the rounded value lies just outside the curve
        const double t = coldest + 10.0 * static_cast<double>(i);
        EXPECT_NEAR(in_celsius(platinum_temperature(ohms[i] / 100.0).value()), t, 0.018) << t;
    }
}

// IEC 60751: mean coefficient between 0 and 100 °C.
TEST(Platinum, MeanCoefficient) {
    expect_printed((platinum_ratio(celsius(100.0)).value() - 1.0) / 100.0, 0.003851, 5e-7, "per kelvin");
}

} // namespace
} // namespace trivet::published
