#include "parts/library.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <map>
#include <regex>
#include <set>

namespace trivet::testing {
namespace {

TEST(PartsLibrary, LoadsWithoutError) {
    for (const std::string& error : parts_library().errors) ADD_FAILURE() << error;
    for (const std::string& name : parts_library().repeated) ADD_FAILURE() << "two parts are called " << name;
    EXPECT_GE(parts_library().parts.size(), 200U);
}

TEST(PartsLibrary, HasEveryCategory) {
    std::map<std::string, std::size_t> counts;
    for (const Part& part : parts_library().parts) ++counts[part.category];
    for (const char* category :
         {"supplies", "batteries", "fuses", "cutoffs", "switches", "converters", "controllers", "sensors", "heaters",
          "fans-and-loads", "wires", "terminals-and-connectors", "diodes", "passives", "materials"})
        EXPECT_GE(counts[category], 5U) << category;
    EXPECT_EQ(counts.size(), 15U);
}

// The classes of parts that home builders own, each by a part of it.
TEST(PartsLibrary, HasTheClassesBuildersOwn) {
    std::set<std::string, std::less<>> names;
    for (const Part& part : parts_library().parts) names.insert(part.name);
    for (const char* beginning : {"supply-bench",
                                  "supply-desktop-5v",
                                  "supply-desktop-12v",
                                  "supply-desktop-19v",
                                  "supply-desktop-24v",
                                  "supply-desktop-36v",
                                  "supply-desktop-48v",
                                  "supply-24v",
                                  "supply-usb-c",
                                  "battery-lead-acid",
                                  "battery-lifepo4",
                                  "fuse-blade",
                                  "fuse-5x20-quick",
                                  "fuse-5x20-time-lag",
                                  "fuse-resettable",
                                  "thermal-link",
                                  "thermostat-manual-reset",
                                  "thermostat-self-reset",
                                  "relay-12v",
                                  "relay-module",
                                  "mosfet-logic-level",
                                  "mosfet-standard",
                                  "relay-solid-state-dc",
                                  "relay-solid-state-ac",
                                  "converter-buck",
                                  "converter-boost",
                                  "converter-linear",
                                  "controller-3v3",
                                  "controller-5v",
                                  "thermistor-ntc",
                                  "sensor-pt100",
                                  "sensor-pt1000",
                                  "sensor-temperature-one-wire",
                                  "sensor-infrared",
                                  "sensor-presence",
                                  "heater-plate",
                                  "heater-mat",
                                  "heater-foil",
                                  "heater-cartridge",
                                  "heater-nichrome-wire",
                                  "heater-resistor",
                                  "heater-ptc",
                                  "peltier",
                                  "fan",
                                  "led-indicator",
                                  "display",
                                  "buzzer",
                                  "connector",
                                  "terminal-block",
                                  "wire-1.0mm2",
                                  "diode-rectifier",
                                  "capacitor-electrolytic",
                                  "resistor",
                                  "aluminium",
                                  "pla",
                                  "beeswax"}) {
        const auto found = names.lower_bound(beginning);
        EXPECT_TRUE(found != names.end() && found->starts_with(beginning)) << beginning;
    }
}

// The terminals an element ends on, whatever it calls them.
template <class E> void collect(const E& e, std::set<TerminalIndex>& used) {
    if constexpr (requires { e.between; }) used.insert({e.between.first, e.between.second});
    if constexpr (requires { e.input.first; })
        used.insert({e.input.first, e.input.second, e.output.first, e.output.second});
    if constexpr (requires { e.terminal; }) used.insert(e.terminal);
    if constexpr (requires { e.reference.value; }) used.insert(e.reference);
    if constexpr (requires { e.ground; }) used.insert(e.ground);
    if constexpr (requires { e.supply; }) used.insert(e.supply);
}

TEST(PartsLibrary, EveryTerminalIsUsedByAnElement) {
    for (const Part& part : parts_library().parts) {
        std::set<TerminalIndex> used;
        for (const Element& element : part.elements)
            std::visit([&](const auto& body) { collect(body, used); }, element.body);
        EXPECT_FALSE(part.elements.empty()) << part.name;
        for (std::uint16_t i = 0; i < part.terminals.size(); ++i) {
            if (used.contains({i}) || is_excepted("unused-terminal", part.name + " " + part.terminals[i].name))
                continue;
            ADD_FAILURE() << part.name << ": no element ends on the terminal '" << part.terminals[i].name << "'";
        }
    }
}

TEST(PartsLibrary, EveryPartSaysWhereItsNumbersComeFrom) {
    for (const Part& part : parts_library().parts) {
        EXPECT_GE(part.source.size(), 8U) << part.name;
        EXPECT_GE(part.title.size(), 3U) << part.name;
        EXPECT_NE(part.basis, Basis::measured) << part.name << ": nobody measured a generic part";
        EXPECT_NE(part.basis, Basis::datasheet) << part.name << ": a generic part has no datasheet";
        const bool names_a_standard =
            std::regex_search(part.source, std::regex("(IEC|ISO|EN|UL|DIN|ASTM)[ A-Z]*[0-9]"));
        if (part.basis == Basis::standard) {
            EXPECT_TRUE(names_a_standard) << part.name << ": which standard?";
        }
    }
}

// A source that says "common practice" of one value must not lend that value the weight of a standard.
TEST(PartsLibrary, CommonPracticeIsNoStandard) {
    for (std::size_t i = 0; i < parts_library().parts.size(); ++i) {
        const Part& part = parts_library().parts[i];
        if (part.basis != Basis::standard || part.source.find("common practice") == std::string::npos) continue;
        EXPECT_NE(parts_library().texts[i].second.find("\ntypical = ["), std::string::npos) << part.name;
    }
}

std::string without_heading(const std::string& name, std::string text) {
    for (std::size_t at = 0; (at = text.find(name, at)) != std::string::npos;) text.erase(at, name.size());
    text = std::regex_replace(text, std::regex("(title|source) = \"[^\n]*\n"), "");
    text.erase(std::remove_if(text.begin(), text.end(), [](char c) { return c == '"' || c == ' ' || c == '\n'; }),
               text.end());
    return text;
}

// Two parts of the same values are alike unless their titles tell them apart by words: a number in the title that no
// value carries would mislead. Sizes such as 5x20 count as words.
TEST(PartsLibrary, NoTwoPartsAreAlike) {
    std::map<std::string, std::string> seen;
    std::map<std::string, std::string> titles;
    for (std::size_t i = 0; i < parts_library().parts.size(); ++i) {
        const Part& part = parts_library().parts[i];
        const auto [titled, fresh_title] = titles.emplace(part.title, part.name);
        EXPECT_TRUE(fresh_title) << part.name << " and " << titled->second << " have the same title";
        const std::string words = std::regex_replace(part.title, std::regex("(^|[ (])[0-9.]+( |,|$)"), "$1$2");
        const std::string values = without_heading(part.name, parts_library().texts[i].second);
        const auto [same, fresh] = seen.emplace(part.category + words + values, part.name);
        if (fresh || (is_excepted("alike", part.name) && is_excepted("alike", same->second))) continue;
        ADD_FAILURE() << part.name << " and " << same->second << " differ in a number of the title only";
    }
}

// Product numbers are letters and digits run together; trade words, standards (ASTM B258) and load
// categories (Q300 of IEC 60947-5-1) that look so are listed.
TEST(PartsLibrary, NamesNoProducts) {
    static const std::regex product("\\b([A-Za-z]{2,}[0-9]{2,}[A-Za-z0-9]*|[A-Za-z][0-9]{3,}[A-Za-z0-9]*|"
                                    "[0-9][A-Za-z]{1,2}[0-9]{3,}[A-Za-z]*|[A-Z]{2,}-[0-9]{3,}[A-Za-z0-9]*|"
                                    "[A-Z]{2,}[0-9]+[A-Z]+[A-Za-z0-9]*)\\b");
    static const std::regex allowed("[Pp]t1000?|[bB][0-9]{4}|IO[0-9]{2}|GP[0-9]{2}|B258|Q300");
    std::set<std::string> found;
    for (const auto& [name, text] : parts_library().texts) {
        for (std::sregex_iterator hit(text.begin(), text.end(), product), end; hit != end; ++hit)
            if (!std::regex_match(hit->str(), allowed)) found.insert(name + ": " + hit->str());
    }
    for (const std::string& name : found) ADD_FAILURE() << name << " looks like a product";
    for (const char* example : {"AB1234", "ABC12D34", "AB12", "1X2345", "AB-1234"})
        EXPECT_TRUE(std::regex_match(example, product)) << example;
}

TEST(PartsLibrary, NamesAreKebabCase) {
    static const std::regex kebab("[a-z0-9]+([-.][a-z0-9]+)*");
    for (const Part& part : parts_library().parts) EXPECT_TRUE(std::regex_match(part.name, kebab)) << part.name;
}

// Every exception is still needed; runs last by its name.
TEST(ZExceptions, AreAllNeeded) {
    if (::testing::UnitTest::GetInstance()->test_to_run_count() <
        ::testing::UnitTest::GetInstance()->total_test_count())
        GTEST_SKIP() << "only some tests run";
    for (const std::string& idle : idle_exceptions()) ADD_FAILURE() << "no longer needed: " << idle;
}

} // namespace
} // namespace trivet::testing
