#include "parts/library.h"

#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <regex>

namespace trivet::testing {
namespace {

// "supply-24v-5a" must be what its name says: the name is all that many a builder reads.
template <Dimension D>
void expect_named(const Part& part, const Perhaps<D>& value, double named, double tolerance, const char* what) {
    ASSERT_TRUE(value) << part.name << ": the name states a " << what << ", its values do not";
    EXPECT_LE(value->range.lo.si * (1.0 - tolerance), named) << part.name << ": " << what;
    EXPECT_GE(value->range.hi.si * (1.0 + tolerance), named) << part.name << ": " << what;
}

std::optional<double> find(const std::string& name, const char* pattern, double scale = 1.0) {
    std::smatch hit;
    if (!std::regex_search(name, hit, std::regex(pattern))) return std::nullopt;
    return std::stod(hit[1].str()) * scale;
}

TEST(PartNames, SuppliesGiveWhatTheirNamesSay) {
    for_each_of<SourceElement>([](const Part& part, const SourceElement& source) {
        if (part.category != "supplies") return;
        const bool bench = part.name.starts_with("supply-bench-"); // set by the user
        if (const auto volts = find(part.name, "-([0-9.]+)v(-|$)"); volts && !bench)
            expect_named(part, source.voltage, *volts, 0.1, "voltage");
        if (const auto amperes = find(part.name, "-([0-9.]+)a$"))
            expect_named(part, source.rated_current, *amperes, 0.1, "current");
    });
}

TEST(PartNames, FusesAndCutoffsAreWhatTheirNamesSay) {
    for_each_of<FuseElement>([](const Part& part, const FuseElement& fuse) {
        const auto amperes = find(part.name, "-([0-9.]+)a$");
        const auto milliamperes = find(part.name, "-([0-9.]+)ma$", 1e-3);
        ASSERT_TRUE(amperes || milliamperes) << part.name;
        expect_named(part, fuse.rated_current, amperes ? *amperes : *milliamperes, 1e-9, "current");
        if (const auto volts = find(part.name, "-([0-9.]+)v-"))
            expect_named(part, fuse.rated_voltage, *volts, 1e-9, "voltage");
    });
    for_each_of<CutoffElement>([](const Part& part, const CutoffElement& cutoff) {
        const auto degrees = find(part.name, "-([0-9]+)c$");
        ASSERT_TRUE(degrees && cutoff.trip) << part.name;
        if (cutoff.reset == CutoffReset::one_shot) {
            EXPECT_NEAR(in_celsius(cutoff.trip->range.hi), *degrees, 1e-9) << part.name;
        } else {
            EXPECT_NEAR(in_celsius(cutoff.trip->range.middle()), *degrees, 2.5) << part.name;
        }
    });
}

TEST(PartNames, WiresHaveTheAreaOfTheirNames) {
    for_each_of<WireElement>([](const Part& part, const WireElement& wire) {
        if (const auto square = find(part.name, "-([0-9.]+)mm2", 1e-6))
            expect_named(part, wire.area, *square, 1e-6, "area");
        if (const auto gauge = find(part.name, "-([0-9]+)awg")) {
            // ASTM B258: d = 0.127 mm * 92^((36 - n)/39).
            const double diameter = 0.127e-3 * std::pow(92.0, (36.0 - *gauge) / 39.0);
            expect_named(part, wire.area, std::acos(-1.0) / 4.0 * diameter * diameter, 0.01, "area");
        }
        for (std::string_view insulation : insulation_names)
            if (part.name.find("-" + std::string(insulation)) != std::string::npos) {
                EXPECT_EQ(wire.insulation, insulation) << part.name;
            }
    });
}

TEST(PartNames, HeatersAndPassivesAreWhatTheirNamesSay) {
    for_each_of<HeaterElement>([](const Part& part, const HeaterElement& heater) {
        if (!part.name.starts_with("heater-")) return;
        if (const auto volts = find(part.name, "-([0-9.]+)v(-|$)"))
            expect_named(part, heater.voltage, *volts, 0.1, "voltage");
        if (const auto watts = find(part.name, "v-([0-9.]+)w$")) expect_named(part, heater.power, *watts, 0.1, "power");
        if (const auto ohms = find(part.name, "-([0-9.]+)ohm"))
            expect_named(part, heater.resistance, *ohms, 0.01, "resistance");
    });
    for_each_of<CapacitorElement>([](const Part& part, const CapacitorElement& capacitor) {
        const auto micro = find(part.name, "-([0-9.]+)uf-", 1e-6);
        const auto nano = find(part.name, "-([0-9.]+)nf-", 1e-9);
        ASSERT_TRUE(micro || nano) << part.name;
        expect_named(part, capacitor.capacitance, micro ? *micro : *nano, 1e-9, "capacitance");
        expect_named(part, capacitor.rated_voltage, find(part.name, "-([0-9]+)v$").value_or(0.0), 1e-9, "voltage");
    });
    for_each_of<ResistorElement>([](const Part& part, const ResistorElement& resistor) {
        if (!part.name.starts_with("resistor-") || part.name.starts_with("resistor-shunt")) return;
        std::smatch hit;
        ASSERT_TRUE(std::regex_search(part.name, hit, std::regex("-([0-9.]+)(ohm|k|m)(-|$)"))) << part.name;
        const double unit = hit[2] == "ohm" ? 1.0 : hit[2] == "k" ? 1e3 : 1e6;
        expect_named(part, resistor.resistance, std::stod(hit[1].str()) * unit, 0.01, "resistance");
    });
}

TEST(PartNames, SwitchesAndConvertersCarryWhatTheirNamesSay) {
    for_each_of<TransistorElement>([](const Part& part, const TransistorElement& transistor) {
        if (const auto volts = find(part.name, "-([0-9.]+)v(-|$)"); volts && !part.name.starts_with("switch-high-side"))
            expect_named(part, transistor.rated_voltage, *volts, 1e-9, "voltage");
        if (const auto amperes = find(part.name, "-([0-9.]+)a(-|$)"))
            expect_named(part, transistor.rated_current, *amperes, 1e-9, "current");
    });
    for_each_of<ConverterElement>([](const Part& part, const ConverterElement& converter) {
        if (part.category != "converters") return;
        if (const auto amperes = find(part.name, "-([0-9.]+)a$"))
            expect_named(part, converter.rated_output_current, *amperes, 1e-9, "current");
        if (const auto volts = find(part.name, ".*-([0-9.]+)v-"); volts && converter.output_voltage)
            expect_named(part, converter.output_voltage, *volts, 0.1, "output");
    });
}

} // namespace
} // namespace trivet::testing
