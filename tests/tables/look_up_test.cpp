#include "tables/handbook.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet {
namespace {

using test::key;
using test::look_up;

constexpr Area mm2(double value) { return {value * 1e-6}; }

PublishedTable sample(const std::string& match) {
    auto table = test::table_from("title = 't'\nsource = 's'\nconfirmed = 'computed'\n"
                                  "keys = [{ name = 'area', dimension = 'area', match = '" +
                                  match +
                                  "' }]\nvalue = { name = 'current', dimension = 'current' }\n"
                                  "rows = [['2.5 mm2', '20 A'], ['0.5 mm2', '4 A'], ['1 mm2', '10 A']]\n");
    EXPECT_TRUE(table) << test::describe(table.errors);
    return *table.value;
}

TEST(LookUp, ExactFindsOnlyPrintedKeys) {
    const PublishedTable table = sample("exact");
    EXPECT_EQ(look_up(table, {key(mm2(1.0))})->si, 10.0);
    EXPECT_EQ(look_up(table, {key(Area{0.01e-4})})->si, 10.0); // 0.01 cm², equal but for the last bit
    const auto between = look_up(table, {key(mm2(0.75))});
    ASSERT_FALSE(between);
    EXPECT_EQ(between.error().reason, "no row for 0.750 mm² in 'sample', which is read only at its printed values");
}

TEST(LookUp, DownTakesTheNextSmallerKeyAndNeverGoesBelowTheFirst) {
    const PublishedTable table = sample("down");
    EXPECT_EQ(look_up(table, {key(mm2(0.5))})->si, 4.0);
    EXPECT_EQ(look_up(table, {key(mm2(0.999))})->si, 4.0);
    EXPECT_EQ(look_up(table, {key(mm2(1.0))})->si, 10.0);
    EXPECT_EQ(look_up(table, {key(mm2(100.0))})->si, 20.0);
    const auto below = look_up(table, {key(mm2(0.3))});
    ASSERT_FALSE(below);
    EXPECT_EQ(below.error().reason, "no row for 0.300 mm² in 'sample': it starts at 0.500 mm²");
}

TEST(LookUp, UpTakesTheNextLargerKeyAndNeverGoesBeyondTheLast) {
    const PublishedTable table = sample("up");
    EXPECT_EQ(look_up(table, {key(mm2(0.1))})->si, 4.0);
    EXPECT_EQ(look_up(table, {key(mm2(0.6))})->si, 10.0);
    EXPECT_EQ(look_up(table, {key(mm2(2.5))})->si, 20.0);
    const auto above = look_up(table, {key(mm2(4.0))});
    ASSERT_FALSE(above);
    EXPECT_EQ(above.error().reason, "no row for 4.00 mm² in 'sample': it ends at 2.50 mm²");
}

TEST(LookUp, InterpolateIsAStraightLineAndNeverExtrapolates) {
    const PublishedTable table = sample("interpolate");
    EXPECT_DOUBLE_EQ(look_up(table, {key(mm2(0.75))})->si, 7.0);
    EXPECT_DOUBLE_EQ(look_up(table, {key(mm2(1.75))})->si, 15.0);
    EXPECT_EQ(look_up(table, {key(mm2(2.5))})->si, 20.0);
    EXPECT_FALSE(look_up(table, {key(mm2(0.4))}));
    EXPECT_FALSE(look_up(table, {key(mm2(2.6))}));
}

PublishedTable grid() {
    auto table = test::table_from(R"(
title = "t"
source = "s"
confirmed = "computed"
keys = [{ name = "area", dimension = "area", match = "down" }, { name = "class", dimension = "text" },
        { name = "ambient", dimension = "temperature", match = "interpolate" }]
value = { name = "current", dimension = "current" }
rows = [
    ["1 mm2", "pvc", "30 °C", "10 A"], ["1 mm2", "pvc", "50 °C", "6 A"],
    ["2 mm2", "pvc", "30 °C", "20 A"], ["2 mm2", "pvc", "50 °C", "12 A"],
    ["2 mm2", "silicone", "30 °C", "30 A", "another source"],
]
)");
    EXPECT_TRUE(table) << test::describe(table.errors);
    return *table.value;
}

TEST(LookUp, SettlesTextsFirstThenNumbersFromTheLast) {
    const PublishedTable table = grid();
    EXPECT_EQ(table.rows.back().source, "another source");
    EXPECT_DOUBLE_EQ(look_up(table, {key(mm2(1.5)), key("pvc"), key(celsius(40))})->si, 8.0);
    EXPECT_DOUBLE_EQ(look_up(table, {key(mm2(3.0)), key("pvc"), key(celsius(50))})->si, 12.0);
    EXPECT_DOUBLE_EQ(look_up(table, {key(mm2(2.0)), key("silicone"), key(celsius(30))})->si, 30.0);
}

TEST(LookUp, SaysWhyACombinationIsMissing) {
    const PublishedTable table = grid();
    EXPECT_EQ(look_up(table, {key(mm2(1.0)), key("silicone"), key(celsius(30))}).error().reason,
              "no row for 1.00 mm² in 'sample': it starts at 2.00 mm²");
    EXPECT_EQ(look_up(table, {key(mm2(2.0)), key("silicone"), key(celsius(40))}).error().reason,
              "no row for 40.0 °C in 'sample': it ends at 30.0 °C");
    EXPECT_EQ(look_up(table, {key(mm2(2.0)), key("wool"), key(celsius(30))}).error().reason,
              "no row for 'wool' in 'sample': it has pvc, silicone");
}

TEST(LookUp, RefusesKeysThatDoNotFit) {
    const PublishedTable table = sample("down");
    EXPECT_EQ(look_up(table, {}).error().reason, "'sample' is read with 1 keys, but 0 were given");
    EXPECT_EQ(look_up(table, {key(Length{1.0})}).error().reason,
              "1.00 m does not fit the key 'area' of 'sample', which is an area");
    EXPECT_EQ(look_up(table, {key("1 mm2")}).error().reason,
              "'1 mm2' does not fit the key 'area' of 'sample', which is an area");
    EXPECT_NE(look_up(table, {key(mm2(0.0 / 0.0))}).error().reason.find("not a finite number"), std::string::npos);
}

TEST(Handbook, FindsTablesByName) {
    Handbook handbook;
    handbook.tables.emplace("sample", sample("down"));
    ASSERT_NE(handbook.find("sample"), nullptr);
    EXPECT_EQ(handbook.find("sample")->value.name, "current");
    EXPECT_EQ(handbook.find("other"), nullptr);
}

} // namespace
} // namespace trivet
