#include "published/published.h"

#include <cmath>

namespace trivet::published {
namespace {

using test::key;

using ShortCircuit = PublishedTables;

// k in A s^0.5/mm².
double k_of(double withstand) { return std::sqrt(withstand) * 1e-6; }

// IEC 60364-4-43 table 43A: copper with PVC of 70 °C, up to 300 mm².
TEST_F(ShortCircuit, FactorOfPvc) { expect_same(k_of(value("adiabatic-k", {key("pvc")})), 115.0, "PVC"); }

// The same table: XLPE and EPR of 90 °C, rubber of 85 °C.
TEST_F(ShortCircuit, FactorsOfOtherInsulationFromMemory) {
    expect_remembered(k_of(value("adiabatic-k", {key("xlpe")})), 143.0, 1e-6, "XLPE");
    expect_remembered(k_of(value("adiabatic-k", {key("rubber")})), 134.0, 1e-6, "rubber");
}

// A published worked example: 3000 A for 0.4 s, copper with PVC, need 16.50 mm².
TEST_F(ShortCircuit, SmallestAreaOfTheWorkedExample) {
    const double joule_integral = 3000.0 * 3000.0 * 0.4;
    expect_printed(std::sqrt(joule_integral / value("adiabatic-k", {key("pvc")})) * 1e6, 16.50, 0.005, "mm²");
}

// k²S² <= I²t (IEC 60364-4-43 clause 434.5.2) by hand for k = 115: whole A²s.
TEST_F(ShortCircuit, JouleIntegralsByHand) {
    struct Row {
        double mm2;
        double ampere_squared_seconds;
    };
    for (const Row& row :
         {Row{0.5, 3306}, {0.75, 7439}, {1.0, 13225}, {1.5, 29756}, {2.5, 82656}, {4, 211600}, {6, 476100}}) {
        const double area = mm2(row.mm2).si;
        EXPECT_NEAR(value("adiabatic-k", {key("pvc")}) * area * area, row.ampere_squared_seconds, 0.5) << row.mm2;
    }
}

} // namespace
} // namespace trivet::published
