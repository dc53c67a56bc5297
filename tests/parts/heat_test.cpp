#include "parts/library.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>

namespace trivet::testing {
namespace {

bool is_wire_or_material(const Part& part) {
    return std::ranges::any_of(part.elements, [](const Element& element) {
        return std::holds_alternative<WireElement>(element.body) ||
               std::holds_alternative<MaterialElement>(element.body);
    });
}

// Wires have the class of their insulation and materials their limit. What a cutoff bears above its trip temperature
// differs by maker, a lamp runs hotter than what it sits on, and of salvaged parts nobody knows.
bool may_leave_it_open(const Part& part) {
    return is_wire_or_material(part) || part.category == "cutoffs" || part.name.starts_with("lamp-") ||
           part.name.find("salvaged") != std::string::npos;
}

TEST(PartsNearHeat, EveryPartSaysHowHotItsPlaceMayBe) {
    std::size_t stated = 0;
    for (const Part& part : parts_library().parts) {
        const auto& limit = part.temperature_limit;
        if (may_leave_it_open(part) && !limit) continue;
        ASSERT_TRUE(limit) << part.name;
        ++stated;
        EXPECT_EQ(limit->basis, Basis::typical) << part.name << ": no standard states it for the class";
        EXPECT_GE(in_celsius(limit->range.lo), 35.0) << part.name << ": a warm room must do no harm";
        EXPECT_LE(in_celsius(limit->range.hi), 1000.5) << part.name;
    }
    EXPECT_GE(stated, 450U);
}

struct ClassLimit {
    std::string_view prefix;
    double lowest; // °C
    double highest;
};

// Common practice, no source: what the classes of parts bear as a rule.
TEST(PartsNearHeat, ClassesBearWhatIsUsual) {
    constexpr std::array<ClassLimit, 10> rows{{{"supply-24v", 70, 70},
                                               {"battery-lithium", 45, 45},
                                               {"controller-", 70, 85},
                                               {"relay-module-", 70, 85},
                                               {"mosfet-module-", 85, 85},
                                               {"terminal-block-", 105, 105},
                                               {"breadboard-", 60, 70},
                                               {"fan-12v", 60, 70},
                                               {"capacitor-electrolytic-", 85, 105},
                                               {"sensor-infrared-", 85, 85}}};
    for (const ClassLimit& row : rows) {
        std::size_t found = 0;
        for (const Part& part : parts_library().parts) {
            if (!part.name.starts_with(row.prefix)) continue;
            ++found;
            EXPECT_NEAR(in_celsius(part.temperature_limit->range.lo), row.lowest, 1e-9) << part.name;
            EXPECT_NEAR(in_celsius(part.temperature_limit->range.hi), row.highest, 1e-9) << part.name;
        }
        EXPECT_GE(found, 1U) << row.prefix;
    }
}

TEST(PartsNearHeat, HeatersBearTheirOwnHeat) {
    for_each_of<HeaterElement>([](const Part& part, const HeaterElement& heater) {
        if (!part.temperature_limit || !heater.working_temperature) return;
        EXPECT_GE(part.temperature_limit->range.hi, heater.working_temperature->range.hi) << part.name;
    });
}

// Makers' sheets of bimetal discs: they close again 10 to 25 K below the nominal temperature; those with a button can
// be reset once they are clearly colder than that. From memory.
TEST(PartsNearHeat, CutoffsCloseAgainBelowTheirTrip) {
    const std::size_t cutoffs = for_each_of<CutoffElement>([](const Part& part, const CutoffElement& cutoff) {
        ASSERT_TRUE(cutoff.response_time) << part.name;
        EXPECT_GE(cutoff.response_time->range.lo.si, 5.0) << part.name;
        EXPECT_LE(cutoff.response_time->range.hi.si, 30.0) << part.name;
        EXPECT_EQ(cutoff.reset_temperature.has_value(), cutoff.reset != CutoffReset::one_shot) << part.name;
        if (!cutoff.reset_temperature) return;
        EXPECT_LT(cutoff.reset_temperature->range.hi, cutoff.trip->range.lo) << part.name;
        const double gap = (cutoff.trip->range.middle() - cutoff.reset_temperature->range.hi).si;
        EXPECT_GE(gap, cutoff.reset == CutoffReset::manual ? 19.9 : 9.9) << part.name;
    });
    EXPECT_GE(cutoffs, 50U);
}

TEST(PartsNearHeat, TemperatureSensorsSayHowLateTheyAre) {
    for_each_of<ThermistorElement>([](const Part& part, const ThermistorElement& thermistor) {
        if (part.name.find("salvaged") != std::string::npos || part.category != "sensors") return;
        ASSERT_TRUE(thermistor.response_time) << part.name;
        EXPECT_EQ(thermistor.response_time->basis, Basis::typical) << part.name;
        EXPECT_LE(thermistor.response_time->range.hi.si, 20.0) << part.name;
        EXPECT_LE(part.temperature_limit->range.hi, thermistor.range->range.hi) << part.name;
    });
    for (const Part& part : parts_library().parts) {
        if (part.category != "sensors" || part.name.find("temperature") == std::string::npos) continue;
        const bool timed = std::ranges::any_of(part.elements, [](const Element& element) {
            const auto* signal = std::get_if<SignalElement>(&element.body);
            return signal != nullptr && signal->response_time;
        });
        EXPECT_TRUE(timed) << part.name;
    }
}

TEST(PartsNearHeat, MaterialsThatMeltTakeUpHeatAndLiquidsAreMarked) {
    std::size_t liquids = 0;
    for_each_of<MaterialElement>([&liquids](const Part& part, const MaterialElement& material) {
        EXPECT_EQ(material.melting.has_value(), material.melting_energy.has_value()) << part.name;
        EXPECT_EQ(material.touch.empty(), part.name == "air") << part.name;
        if (!material.liquid) return;
        ++liquids;
        EXPECT_EQ(material.touch, "metal") << part.name << ": a liquid clings to the skin";
        EXPECT_TRUE(material.density && material.specific_heat && material.conductivity) << part.name;
    });
    EXPECT_GE(liquids, 8U);
}

TEST(PartsNearHeat, TheUsualMaterialsAreThere) {
    constexpr std::array<std::string_view, 20> names{"aluminium",
                                                     "steel",
                                                     "stainless-steel",
                                                     "copper",
                                                     "brass",
                                                     "glass",
                                                     "glass-borosilicate",
                                                     "wood",
                                                     "pla",
                                                     "petg",
                                                     "abs",
                                                     "xps",
                                                     "pu-foam",
                                                     "mineral-wool",
                                                     "water",
                                                     "beeswax",
                                                     "soil-moist",
                                                     "sand",
                                                     "tile",
                                                     "silicone-rubber"};
    for (const std::string_view name : names) {
        const auto& parts = parts_library().parts;
        const auto found = std::ranges::find(parts, name, &Part::name);
        ASSERT_NE(found, parts.end()) << name;
        const auto* material = std::get_if<MaterialElement>(&found->elements.at(0).body);
        ASSERT_NE(material, nullptr) << name;
        EXPECT_TRUE(material->density && material->specific_heat && material->conductivity && material->emissivity)
            << name;
    }
}

} // namespace
} // namespace trivet::testing
