#include "cli/part_search.h"
#include "parts/library.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet::testing {
namespace {

using Words = std::vector<std::string>;

const Part& part(std::string_view name) {
    const auto found = std::ranges::find(parts_library().parts, name, &Part::name);
    if (found == parts_library().parts.end()) throw std::runtime_error("no part " + std::string(name));
    return *found;
}

bool fits(std::string_view name, const Words& words) { return match(part(name), read_query(words)).has_value(); }

std::string deciding(std::string_view name, const Words& words) {
    const auto found = match(part(name), read_query(words));
    return found ? found->deciding : "does not fit";
}

TEST(ReadQuery, ReadsQuantitiesAsPeopleTypeThem) {
    struct Row {
        Words words;
        double si;
        Dimension dimension;
    };
    for (const Row& row : std::initializer_list<Row>{{{"24V"}, 24.0, dim::voltage},
                                                     {{"24", "V"}, 24.0, dim::voltage},
                                                     {{"24 V"}, 24.0, dim::voltage},
                                                     {{"24v"}, 24.0, dim::voltage},
                                                     {{"5A"}, 5.0, dim::current},
                                                     {{"500mA"}, 0.5, dim::current},
                                                     {{"60", "W"}, 60.0, dim::power},
                                                     {{"100k"}, 1e5, dim::resistance},
                                                     {{"4.7", "k"}, 4700.0, dim::resistance},
                                                     {{"10ohm"}, 10.0, dim::resistance},
                                                     {{"1M"}, 1e6, dim::resistance},
                                                     {{"1.5mm2"}, 1.5e-6, dim::area},
                                                     {{"110C"}, 383.15, dim::temperature},
                                                     {{"110", "°C"}, 383.15, dim::temperature},
                                                     {{"1000uF"}, 1e-3, dim::capacitance}}) {
        const PartQuery query = read_query(row.words);
        ASSERT_EQ(query.asked.size(), 1U) << row.words.front();
        EXPECT_NEAR(query.asked[0].si, row.si, 1e-9 * row.si) << row.words.front();
        EXPECT_EQ(query.asked[0].dimension, row.dimension) << row.words.front();
        EXPECT_TRUE(query.words.empty()) << row.words.front();
    }
}

TEST(ReadQuery, LeavesTheRestAsWords) {
    for (const char* word : {"5x20", "80mm", "7ah", "relay", "24", "3v3", "b3950", "2way", "0v"}) {
        EXPECT_TRUE(read_query({word}).asked.empty()) << word;
        EXPECT_EQ(read_query({word}).words, Words{word});
    }
    EXPECT_EQ(read_query({"switch", "24", "V", "5", "A", "dc"}).words, Words{"switch"});
    EXPECT_EQ(read_query({"thermostat", "dc"}).words, (Words{"thermostat", "dc"}));
    EXPECT_TRUE(read_query({"switch", "230V", "AC"}).alternating);
}

// Expected by hand from the ratings in parts/switches.toml.
TEST(PartSearch, FindsSwitchesForALoad) {
    const Words asked{"switch", "24", "V", "5", "A", "dc"};
    EXPECT_EQ(deciding("relay-module-5v-10a", asked), "contact 10.0 A at 30.0 V DC");
    EXPECT_EQ(deciding("switch-toggle-6a", asked), "contact 6.00 A at 28.0 V DC");
    EXPECT_EQ(deciding("mosfet-module-low-side-60v-5a", asked), "switches 60.0 V, switches 5.00 A");
    EXPECT_FALSE(fits("relay-automotive-12v-30a", asked));  // 30 A, but at 14 V only
    EXPECT_FALSE(fits("switch-rocker-250v-ac-10a", asked)); // rated for alternating current alone
    EXPECT_FALSE(fits("relay-solid-state-ac-25a", asked));
    EXPECT_FALSE(fits("switch-slide-0.3a", asked));
    EXPECT_FALSE(fits("fuse-blade-5a", asked)); // no switch
    EXPECT_TRUE(fits("switch-rocker-250v-ac-10a", {"switch", "230", "V", "5", "A", "ac"}));
}

TEST(PartSearch, TakesCurrentAndVoltageFromOneRating) {
    // 6 A at 30 V and 0.3 A at 110 V: neither rating bears 1 A at 48 V.
    EXPECT_TRUE(fits("relay-plug-in-24v-6a", {"6A", "30V"}));
    EXPECT_TRUE(fits("relay-plug-in-24v-6a", {"0.2A", "48V"}));
    EXPECT_FALSE(fits("relay-plug-in-24v-6a", {"1A", "48V"}));
}

TEST(PartSearch, ReadsAVoltageAloneAsTheCoils) {
    EXPECT_TRUE(fits("relay-12v-10a", {"relay", "12v"}));
    EXPECT_TRUE(fits("relay-module-12v-10a", {"relay", "12", "V"}));
    EXPECT_FALSE(fits("relay-5v-10a", {"relay", "12v"}));
    EXPECT_FALSE(fits("relay-module-24v-10a", {"relay", "12v"}));
}

TEST(PartSearch, FindsByKindOfPart) {
    EXPECT_TRUE(fits("fuse-blade-4a", {"fuse", "4a"}));
    EXPECT_TRUE(fits("fuse-blade-5a", {"fuse", "4a"}));
    EXPECT_FALSE(fits("fuse-blade-3a", {"fuse", "4a"}));
    EXPECT_TRUE(fits("supply-24v-5a", {"supply", "24V", "5A"}));
    EXPECT_TRUE(fits("supply-24v-10a", {"supply", "24V", "5A"}));
    EXPECT_FALSE(fits("supply-24v-3a", {"supply", "24V", "5A"}));
    EXPECT_FALSE(fits("supply-36v-5a", {"supply", "24V", "5A"}));
    EXPECT_TRUE(fits("supply-24v-5a", {"supply", "24V", "100W"}));
    EXPECT_TRUE(fits("heater-plate-24v-60w", {"heater", "24V", "60W"}));
    EXPECT_FALSE(fits("heater-plate-24v-100w", {"heater", "24V", "60W"}));
    EXPECT_FALSE(fits("heater-plate-12v-60w", {"heater", "24V", "60W"}));
    EXPECT_TRUE(fits("fan-24v-80mm", {"fan", "24V", "80mm"}));
    EXPECT_FALSE(fits("fan-12v-80mm", {"fan", "24V"}));
    EXPECT_TRUE(fits("converter-buck-5v-3a", {"converter", "24V", "5V", "3A"}));
    EXPECT_FALSE(fits("converter-buck-5v-1a", {"converter", "24V", "5V", "3A"}));
    EXPECT_TRUE(fits("resistor-100k", {"100k"}));
    EXPECT_FALSE(fits("resistor-10k", {"100k"}));
    EXPECT_TRUE(fits("thermistor-ntc-100k-b3950", {"100k"}));
    EXPECT_TRUE(fits("wire-1.0mm2-silicone-flex", {"1", "mm2", "silicone"}));
    EXPECT_TRUE(fits("thermal-link-110c", {"110C"}));
    EXPECT_FALSE(fits("thermal-link-128c", {"110C"}));
    EXPECT_TRUE(fits("capacitor-electrolytic-1000uf-35v", {"1000uF", "24V"}));
    EXPECT_FALSE(fits("capacitor-electrolytic-1000uf-16v", {"1000uF", "24V"}));
    EXPECT_TRUE(fits("polycarbonate", {"100C"}));
    EXPECT_FALSE(fits("pla", {"100C"}));
}

TEST(PartSearch, PutsTheNearestFirst) {
    const PartQuery query = read_query({"fuse", "4A"});
    EXPECT_LT(match(part("fuse-blade-4a"), query)->spare, match(part("fuse-blade-5a"), query)->spare);
    EXPECT_LT(match(part("fuse-blade-5a"), query)->spare, match(part("fuse-blade-30a"), query)->spare);
}

TEST(PartSearch, LeavesOutWhatIsNotStated) {
    EXPECT_FALSE(fits("supply-bench-30v-5a", {"supply", "24V"}));
    EXPECT_TRUE(fits("supply-bench-30v-5a", {"supply", "bench"}));
}

} // namespace
} // namespace trivet::testing
