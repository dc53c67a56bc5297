#include "expr/typecheck.h"
#include "rules/engine_support.h"
#include "rules/text_layout.h"
#include "source/utf8.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace trivet {
namespace {

using testing::Bench;
using testing::error_text;

std::string shipped_policy() {
    std::ifstream file(TRIVET_SOURCE_DIR "/rules/policy.toml");
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

TEST(Policy, ShipsWithATextAndASourceForEveryItem) {
    Sources sources;
    const Loaded<Policy> policy = read_policy(sources.add("rules/policy.toml", shipped_policy()));
    for (const InputError& error : policy.errors) ADD_FAILURE() << error_text(sources, error);
    ASSERT_TRUE(policy.value);
    EXPECT_GE(policy.value->items.size(), 12U);
    for (const PolicyItem& item : policy.value->items) {
        EXPECT_TRUE(item.text.ends_with('.')) << item.name;
        EXPECT_FALSE(item.source.empty() || item.source.ends_with('.')) << item.name;
        EXPECT_GT(item.value.si, 0.0) << item.name;
        EXPECT_FALSE(item.changed);
    }
    // IEC 60364-4-41 clause 414.4.5: 60 V ripple-free DC in dry conditions (read on a stored copy).
    ASSERT_NE(policy.value->find("largest_voltage"), nullptr);
    EXPECT_EQ(policy.value->find("largest_voltage")->value, (AnyQuantity{60.0, dim::voltage}));
    // The 7 inch rule for small craft, rounded up to whole centimetres: common practice, no source.
    EXPECT_NEAR(policy.value->find("battery_fuse_distance")->value.si, 7 * 0.0254, 0.005);
}

TEST(Policy, PlacesMistakes) {
    struct Row {
        const char* text;
        const char* error;
    };
    const Row rows[] = {
        {"[a]\nvalue = \"5 A\"\ndimension = \"voltage\"\ntext = \"T.\"\nsource = \"S\"\n", "p:2:"},
        {"[a]\nvalue = \"5 A\"\ndimension = \"amperage\"\ntext = \"T.\"\nsource = \"S\"\n",
         "p:3:13: 'amperage' is not a dimension"},
        {"[a]\nvalue = \"5 A\"\ndimension = \"current\"\nsource = \"S\"\n", "p:1:1: "},
        {"[a]\nvalue = \"5 A\"\ndimension = \"current\"\ntext = \"T.\"\nsource = \"S\"\nnote = 1\n", "p:6:1: "},
        {"[min]\nvalue = \"5 A\"\ndimension = \"current\"\ntext = \"T.\"\nsource = \"S\"\n",
         "p:1:1: 'min' is a word of the rule language"},
    };
    for (const Row& row : rows) {
        Sources sources;
        const Loaded<Policy> policy = read_policy(sources.add("p", row.text));
        ASSERT_FALSE(policy.errors.empty()) << row.text;
        EXPECT_TRUE(error_text(sources, policy.errors[0]).starts_with(row.error))
            << error_text(sources, policy.errors[0]);
    }
}

TEST(Policy, TakesChangesAndRemembersThem) {
    Sources sources;
    Policy policy = read_policy(sources.add("rules/policy.toml", shipped_policy())).value.value();
    const Place place{{4}, 7, 3};
    EXPECT_TRUE(apply(policy, "sensor_ground_shift", "5 mV", place).empty());
    const PolicyItem* item = policy.find("sensor_ground_shift");
    EXPECT_DOUBLE_EQ(item->value.si, 0.005);
    EXPECT_DOUBLE_EQ(item->shipped.si, 0.020);
    EXPECT_TRUE(item->changed);
    EXPECT_EQ(item->place, place);
    EXPECT_TRUE(apply(policy, "supply_load_factor", "80 %", place).empty());
    EXPECT_FALSE(policy.find("supply_load_factor")->changed); // the same value in other words
}

TEST(Policy, RefusesChangesThatCannotBe) {
    Bench bench;
    const Policy before = bench.policy;
    const auto refused = [&](std::string_view name, std::string_view text) {
        const Errors errors = apply(bench.policy, name, text, {{0}, 5, 1});
        EXPECT_EQ(errors.size(), 1U) << name << " = " << text;
        EXPECT_EQ(bench.policy.items[0].value, before.items[0].value);
        return errors.empty() ? std::string{} : errors[0].message + "; " + errors[0].hint;
    };
    EXPECT_EQ(refused("reserv", "0.9"), "'reserv' is not an item of the policy; did you mean 'reserve'?");
    EXPECT_EQ(refused("reserve", "-0.5"), "reserve is -0.50, but it cannot be negative; Trivet's own value is 0.80");
    EXPECT_TRUE(refused("reserve", "5 V").starts_with("reserve: "));
    EXPECT_TRUE(refused("reserve", "").starts_with("reserve: "));
}

// What the schema says about facts of wires, in its own words of the day.
std::string fact_lines(std::initializer_list<std::string_view> names) {
    std::string lines;
    for (const std::string_view name : names) {
        const FactDeclaration& fact = declaration(find_fact(SubjectKind::wire, name).id);
        lines += entry(name, std::string(fact.text) + " [" + to_text(fact.type) + "]", 22);
    }
    return lines;
}

TEST(Explain, ShowsARuleWhole) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    ASSERT_TRUE(apply(bench.policy, "reserve", "0.9", {}).empty());
    const std::string page = explain_rule(bench.rules.rules[0], bench.policy, bench.handbook);
    EXPECT_EQ(page, std::string(R"page(wire-current (hazard)

What it requires
  A wire carries no more than its rated current.

Why
  A wire that carries too much gets so hot that its insulation softens, and it
  can set fire to what it touches.

How it is computed
  requires    current <= rated_current
  where       grouping = lookup('grouping', loaded_circuits)
  where       rated_current = lookup('wire-current', area) * grouping *
              reserve

Facts of the wire it uses
)page") + fact_lines({"current", "area", "loaded_circuits"}) +
                        R"page(
Policy (a design may change it)
  reserve                 0.90, changed from 0.80. Share. Source: common
                          practice, no source.

Tables and sources
  IEC 60204-1 table 6
  IEC 60364-5-52 table B.52.17
  grouping                Factor for bundles. Source: IEC 60364-5-52 table
                          B.52.17 (read on a stored copy).
  wire-current            Current of a wire. Source: IEC 60204-1 table 6 (read
                          on a stored copy).

What to do
  Take a wire thicker than {area}, or split the load.

What it does not see
  It does not see how the wire is laid.
)page");
}

TEST(Explain, ListsKeepToThePage) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    std::string all = list_facts() + list_rules(bench.rules) + list_policy(bench.policy);
    for (const auto& table : bench.handbook.tables) all += explain_table(table.second);
    std::istringstream lines(all);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(code_points(line), page_width) << line;
    for (const FactDeclaration& fact : fact_schema()) EXPECT_NE(all.find(fact.name), std::string::npos) << fact.name;
    EXPECT_NE(list_rules(bench.rules).find("wire\n  wire-current"), std::string::npos) << list_rules(bench.rules);
    EXPECT_NE(all.find("the nearest row at or below the value"), std::string::npos);
    EXPECT_NE(all.find("1.00 mm²   12.4 A"), std::string::npos) << all;
    EXPECT_NE(all.find("first row of the table"), std::string::npos);
}

} // namespace
} // namespace trivet
