#include "electrical/conductor.h"
#include "published/published.h"

namespace trivet::published {
namespace {

using test::key;

using ConductorResistance = PublishedTables;

struct Size {
    double mm2;
    double class_2;
    double class_2_coated;
    double class_5;
    double class_5_coated;
};

constexpr Size sizes[] = {
    {0.5, 36.0, 36.7, 39.0, 40.1}, {0.75, 24.5, 24.8, 26.0, 26.7}, {1.0, 18.1, 18.2, 19.5, 20.0},
    {1.5, 12.1, 12.2, 13.3, 13.7}, {2.5, 7.41, 7.56, 7.98, 8.21},  {4.0, 4.61, 4.70, 4.95, 5.09},
    {6.0, 3.08, 3.11, 3.30, 3.39}, {10.0, 1.83, 1.84, 1.91, 1.95}, {16.0, 1.15, 1.16, 1.21, 1.24}};

// IEC 60228:2004 table 2 (class 2) and table 3 (class 5): largest resistance in ohm/km at 20 °C, plain copper.
TEST_F(ConductorResistance, OfPlainStrands) {
    for (const Size& size : sizes) {
        expect_same(value("conductor-resistance", {key(mm2(size.mm2)), key("class 2")}) * 1e3, size.class_2,
                    label("class 2, mm²", size.mm2));
        expect_same(value("conductor-resistance", {key(mm2(size.mm2)), key("class 5")}) * 1e3, size.class_5,
                    label("class 5, mm²", size.mm2));
    }
}

// The same tables, metal-coated copper. The project knows plain copper only and says that coated strands may have up to
// 3 % more (3.01 % is the most).
TEST_F(ConductorResistance, OfCoatedStrandsIsUpToThreePercentMore) {
    for (const Size& size : sizes) {
        const double class_2 = value("conductor-resistance", {key(mm2(size.mm2)), key("class 2")}) * 1e3;
        const double class_5 = value("conductor-resistance", {key(mm2(size.mm2)), key("class 5")}) * 1e3;
        for (const double share : {size.class_2_coated / class_2, size.class_5_coated / class_5}) {
            EXPECT_GT(share, 1.0) << size.mm2;
            EXPECT_LT(share, 1.0302) << size.mm2;
        }
    }
}

struct Thin {
    double mm2;
    double ohm_per_km;
};

// DIN VDE 0295, extract: fine-stranded plain copper below the range of IEC 60228.
TEST_F(ConductorResistance, OfThinStrands) {
    for (const Thin& row : {Thin{0.14, 134}, {0.22, 96}, {0.25, 76}, {0.34, 53}})
        for (const char* conductor : {"class 5", "class 6"})
            expect_same(value("conductor-resistance", {key(mm2(row.mm2)), key(conductor)}) * 1e3, row.ohm_per_km,
                        label(conductor, row.mm2));
}

// IEC 60228: class 1 (table 1) has the limits of class 2, class 6 (table 4) those of class 5.
TEST_F(ConductorResistance, OfSolidAndExtraFlexibleWiresFromMemory) {
    for (const Size& size : sizes) {
        const auto of = [&](const char* conductor) {
            return value("conductor-resistance", {key(mm2(size.mm2)), key(conductor)}) * 1e3;
        };
        expect_remembered(of("class 1"), size.class_2, 1e-9, label("class 1, mm²", size.mm2));
        expect_remembered(of("class 6"), size.class_5, 1e-9, label("class 6, mm²", size.mm2));
    }
}

struct Factor {
    double celsius;
    double kt;
};

// IEC 60228 annex, table B.1: factors that bring a resistance measured at t back to 20 °C. The printed ones follow a
// coefficient of 0.004/K and stand up to 0.4 % away from the annex's own formula for copper, 254.5 / (234.5 + t).
TEST(CopperTemperature, FactorsOfTheAnnex) {
    const Factor rows[] = {{5, 1.064},  {10, 1.042}, {15, 1.020}, {20, 1.000}, {25, 0.980}, {30, 0.962},
                           {35, 0.943}, {40, 0.926}, {45, 0.909}, {50, 0.893}, {55, 0.877}, {60, 0.862},
                           {65, 0.847}, {70, 0.833}, {75, 0.820}, {80, 0.806}, {85, 0.794}, {90, 0.781}};
    for (const Factor& row : rows)
        expect_printed(1.0 / at_temperature({1.0}, celsius(row.celsius)).si, row.kt, 0.005 * row.kt,
                       label("°C", row.celsius));
}

} // namespace
} // namespace trivet::published
