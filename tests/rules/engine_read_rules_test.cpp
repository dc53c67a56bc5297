#include "rules/engine_support.h"
#include "rules/text_place.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

using testing::Bench;
using testing::rule_text;

TEST(ReadRules, ReadsEverythingARuleSays) {
    Bench bench;
    bench.load("rules/wire/wire-current.toml", testing::current_rule);
    ASSERT_EQ(bench.rules.rules.size(), 1U);
    const Rule& rule = bench.rules.rules[0];
    EXPECT_EQ(rule.name, "wire-current");
    EXPECT_EQ(rule.file, "rules/wire/wire-current.toml");
    EXPECT_EQ(rule.subject, SubjectKind::wire);
    EXPECT_EQ(rule.consequence, Consequence::hazard);
    EXPECT_FALSE(rule.refuses);
    EXPECT_FALSE(rule.applies);
    EXPECT_EQ(to_text(rule.require), "(current <= rated_current)");
    ASSERT_EQ(rule.lets.size(), 2U);
    EXPECT_EQ(rule.lets[0].name, "grouping"); // before the let that uses it, whatever the order in the file
    EXPECT_EQ(rule.lets[0].type, ExprType{dim::number});
    EXPECT_EQ(rule.lets[1].name, "rated_current");
    EXPECT_EQ(rule.lets[1].type, ExprType{dim::current});
    EXPECT_EQ(rule.source.size(), 2U);
    EXPECT_EQ(bench.rules.find("wire-current"), &rule);
    EXPECT_EQ(bench.rules.find("wire-voltage"), nullptr);
}

struct Mistake {
    const char* what;
    std::string text;
    const char* error; // "line:column: fragment"
};

TEST(ReadRules, PlacesEveryMistake) {
    const Mistake rows[] = {
        {"unlike", rule_text("current <= area"), "4:20: 'current' is a current and 'area' is an area"},
        {"unknown name", rule_text("curent <= \"2 A\""),
         "4:12: 'curent' is not a name known here; did you mean 'current'?"},
        {"unit", rule_text("current <= \"2 V\""), "4:24: "},
        {"no truth", rule_text("current"), "4:12: 'require' is a current, but it must be a truth value"},
        {"syntax", rule_text("current <="), "4:22: the expression ends too early"},
        {"after a sign of two bytes", rule_text("insulation == \"é\" and curent > area"), "4:34: 'curent'"},
        {"table", rule_text("current <= limit", "let.limit = \"lookup('wire-curent', area)\"\n"),
         "5:14: there is no table 'wire-curent'; did you mean 'wire-current'?"},
        {"escapes", rule_text("current <= limit", "let.limit = \"lookup(\\\"wire-current\\\", curent)\"\n"),
         "5:39: 'curent'"},
        {"several lines", rule_text("current <= limit", "let.limit = '''\nmin(current,\n  area)'''\n"), "7:3: "},
        {"continued line", rule_text("current <= limit", "let.limit = \"\"\"min(current, \\\n    area)\"\"\"\n"),
         "6:5: "},
        {"circle", rule_text("current <= a", "let.a = 'b * 2'\nlet.b = 'a / 2'\n"), "5:5: 'a' is defined by itself"},
        {"own circle", rule_text("current <= a", "let.a = 'a'\n"), "5:5: 'a' is defined by itself"},
        {"unused let", rule_text("current <= \"2 A\"", "let.spare = 'area'\n"),
         "5:5: 'spare' is defined but nothing uses it"},
        {"let only in an unused let", rule_text("current <= \"2 A\"", "let.a = 'area'\nlet.b = 'a'\n"),
         "5:5: 'a' is defined but nothing uses it"},
        {"reserved let", rule_text("current <= \"2 A\"", "let.min = 'area'\n"),
         "5:5: 'min' cannot be the name of a let"},
        {"let is no text", rule_text("current <= \"2 A\"", "let.a = 3\n"), "5:9: 'a' is not a text"},
        {"applies", rule_text("current <= \"2 A\"", "applies = 'area'\n"),
         "5:12: 'applies' is an area, but it must be a truth value"},
        {"placeholder", rule_text("current <= \"2 A\"", "", "{subject} has {curent}."),
         "5:26: '{curent}' is not a name known here; did you mean 'current'?"},
        {"open placeholder", rule_text("current <= \"2 A\"", "", "{subject} has {current."),
         "5:26: a placeholder begins here and does not end"},
        {"stray brace", rule_text("current <= \"2 A\"", "", "subject}"), "5:19: '}' closes a placeholder"},
        {"unknown key", rule_text("current <= \"2 A\"", "messages = \"x\"\n"), "5:1: "},
        {"empty source", rule_text("current <= \"2 A\"") + "x = 1\n", "10:1: "},
    };
    for (const Mistake& row : rows) {
        Bench bench;
        bench.add_rule("rules/wire/some-rule.toml", row.text);
        const auto errors = bench.read();
        ASSERT_FALSE(errors.empty()) << row.what;
        const std::string wanted = std::string("rules/wire/some-rule.toml:") + row.error;
        EXPECT_TRUE(errors[0].starts_with(wanted)) << row.what << ": " << errors[0];
    }
}

TEST(ReadRules, ReportsAllMistakesOfAllFilesOnce) {
    Bench bench;
    bench.add_rule("first-rule.toml",
                   rule_text("curent <= limit", "let.limit = 'aera'\nlet.twice = 'limit * 2'\n", "{volume}"));
    bench.add_rule("Second_Rule.toml", rule_text("current <= \"2 A\""));
    bench.add_rule("third-rule.toml", "subject = \"wier\"\n");
    const auto errors = bench.read();
    std::string all;
    for (const std::string& error : errors) all += error + "\n";
    for (const char* fragment :
         {"first-rule.toml:4:12: 'curent'", "first-rule.toml:5:14: 'aera'", "first-rule.toml:7:12: '{volume}'",
          "Second_Rule.toml:0:0: 'Second_Rule' cannot be the name of a rule",
          "third-rule.toml:1:11: ", "did you mean 'wire'", "'require'", "'title'", "'message'"}) {
        EXPECT_NE(all.find(fragment), std::string::npos) << fragment << " not in\n" << all;
    }
    EXPECT_EQ(all.find("'twice'"), std::string::npos) << all; // nothing is said about what only follows from a mistake
    EXPECT_EQ(all.find("'limit'"), std::string::npos) << all;
}

TEST(ReadRules, WantsTheFolderOfItsSubject) {
    Bench bench;
    bench.add_rule("rules/fuse/some-rule.toml", rule_text("current <= \"2 A\""));
    EXPECT_EQ(bench.read(),
              std::vector<std::string>{"rules/fuse/some-rule.toml:1:11: the rule is about 'wire' but stands "
                                       "in the folder 'fuse'; move the file to 'wire'"});
    Bench anywhere;
    anywhere.load("my-rules/some-rule.toml", rule_text("current <= \"2 A\""));
}

TEST(ReadRules, LetsALaterFileReplaceAnEarlierOne) {
    Bench bench;
    bench.add_rule("rules/wire/some-rule.toml", rule_text("current <= \"2 A\""));
    bench.add_rule("rules/wire/another-rule.toml", rule_text("current <= \"2 A\""));
    bench.add_rule("mine/some-rule.toml", rule_text("current <= \"1 A\""));
    const Loaded<RulesRead> loaded = read_rules(bench.files, bench.policy, bench.handbook);
    ASSERT_TRUE(loaded);
    EXPECT_EQ(loaded.value->replaced, std::vector<std::string>{"some-rule"});
    ASSERT_EQ(loaded.value->set.rules.size(), 2U);
    EXPECT_EQ(loaded.value->set.rules[0].name, "another-rule");
    EXPECT_EQ(loaded.value->set.find("some-rule")->file, "mine/some-rule.toml");
}

TEST(ReadRules, SharesLetsAmongTheRulesOfASubject) {
    Bench bench;
    bench.add_rule("rules/wire/lets.toml",
                   "let.rated = \"lookup('wire-current', area) * share\"\nlet.share = 'reserve'\n"
                   "let.spare = 'area'\n");
    bench.add_rule("rules/wire/first-rule.toml", rule_text("current <= rated"));
    bench.add_rule("rules/wire/second-rule.toml", rule_text("current <= rated", "let.share = '0.5'\n"));
    EXPECT_EQ(bench.read(), std::vector<std::string>{});
    bench.wire("W1", 1.0, 0.75);
    const auto findings = bench.evaluate();
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_EQ(findings[0].needs, "1.00 A <= 8.32 A");
    EXPECT_EQ(findings[1].needs, "1.00 A <= 5.20 A"); // its own share wins
}

TEST(ReadRules, PlacesMistakesInSharedLetsOnceAndInTheirFile) {
    Bench bench;
    bench.add_rule("rules/wire/lets.toml", "let.rated = 'curent * 2'\n");
    bench.add_rule("rules/wire/first-rule.toml", rule_text("current <= rated"));
    bench.add_rule("rules/wire/second-rule.toml", rule_text("current <= more", "let.more = 'rated'\n"));
    bench.add_rule("rules/wyre/lets.toml", "let.rated = 'current'\n");
    EXPECT_EQ(bench.read(),
              (std::vector<std::string>{
                  "rules/wire/lets.toml:1:14: 'curent' is not a name known here; did you mean 'current'?",
                  "rules/wyre/lets.toml:0:0: shared lets stand in the folder of a subject, and 'wyre' is none; did you "
                  "mean 'wire'?"}));
}

TEST(ReadRules, SurvivesGarbage) {
    for (const char* text :
         {"", "[", "let = 3", "let.a = 'a'", "require = 3", "subject = 'wire'\nlet.x.y = 'a'", "\xff\xfe"}) {
        Bench bench;
        bench.add_rule("some-rule.toml", text);
        EXPECT_FALSE(bench.read().empty()) << text;
    }
}

TEST(TextPlace, FollowsEveryWayOfWritingATextInToml) {
    Sources sources;
    const SourceFile file =
        sources.add("f", "a = 'xy'\nb = \"\\u00e9x\"\nc = '''\nx\ny'''\nd = \"\"\"x\\\n   y\"\"\"\n");
    const auto place = [&](std::uint32_t line, std::size_t offset) {
        const Place found = place_in_text(file, {file.id, line, 5}, offset);
        return std::pair(found.line, found.column);
    };
    EXPECT_EQ(place(1, 0), std::pair(1U, 6U));
    EXPECT_EQ(place(1, 1), std::pair(1U, 7U));
    EXPECT_EQ(place(2, 2), std::pair(2U, 12U)); // after the escape, two bytes of value
    EXPECT_EQ(place(3, 0), std::pair(4U, 1U));
    EXPECT_EQ(place(3, 2), std::pair(5U, 1U));
    EXPECT_EQ(place(6, 1), std::pair(7U, 4U));
}

} // namespace
} // namespace trivet
