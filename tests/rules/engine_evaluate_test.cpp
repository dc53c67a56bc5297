#include "rules/engine_support.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

namespace trivet {
namespace {

using testing::Bench;
using testing::rule_text;
using Strings = std::vector<std::string>;

const Unknown no_area{{"area of W1 (state it in [[wire]])"}, {}};

TEST(EvaluateRules, JudgesEverySubjectOfItsKind) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.wire("W1", 5.0, 0.75);
    bench.wire("W2", 10.0, 0.75);
    bench.set(bench.wire("W3", 10.0, 1.0), "area", no_area);
    bench.add(SubjectKind::fuse, "main_fuse");
    const auto findings = bench.evaluate();
    ASSERT_EQ(findings.size(), 3U);
    EXPECT_EQ(findings[0].verdict, Verdict::pass);
    EXPECT_DOUBLE_EQ(findings[0].margin.value(), 10.4 * 0.8 / 5.0);
    EXPECT_EQ(findings[0].needs, "5.00 A <= 8.32 A");
    EXPECT_EQ(findings[1].verdict, Verdict::fail);
    EXPECT_DOUBLE_EQ(findings[1].margin.value(), 0.832);
    EXPECT_EQ(findings[2].verdict, Verdict::cannot_tell);
    EXPECT_FALSE(findings[2].margin);
    EXPECT_EQ(findings[2].missing, no_area.missing);
    EXPECT_TRUE(findings[2].needs.empty());
}

TEST(EvaluateRules, KeepsTheNumbersAVerdictRestsOn) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    const SubjectId wire = bench.wire("W1", 10.0, 0.75, 12);
    Fact current;
    current.value = AnyQuantity{10.0, dim::current};
    current.circumstance = 3;
    current.place = {{0}, 12, 5};
    current.certainty = Certainty::typical;
    bench.facts.set(wire, find_fact(SubjectKind::wire, "current").id, current);
    bench.facts.describe_with([](Circumstance) { return "heat_switch on; supply high"; });
    ASSERT_TRUE(apply(bench.policy, "reserve", "0.5", {{0}, 30, 1}).empty());
    const auto findings = bench.evaluate();
    ASSERT_EQ(findings.size(), 1U);
    Strings rows;
    for (const Evidence& row : findings[0].evidence) {
        rows.push_back(row.name + " = " + row.value + (row.formula.empty() ? "" : " by " + row.formula) +
                       (row.circumstance.empty() ? "" : " when " + row.circumstance));
    }
    EXPECT_EQ(rows, (Strings{"current = 10.0 A when heat_switch on; supply high",
                             "rated_current = 5.20 A by lookup('wire-current', area) * grouping * reserve",
                             "area = 0.750 mm²", "grouping = 1 by lookup('grouping', loaded_circuits)",
                             "loaded_circuits = 1", "reserve = 0.50 when changed in [policy] from 0.80"}));
    EXPECT_EQ(findings[0].evidence[0].certainty, Certainty::typical);
    EXPECT_EQ(findings[0].evidence[0].place, (Place{{0}, 12, 5}));
    EXPECT_EQ(findings[0].evidence[0].quantity, (AnyQuantity{10.0, dim::current}));
    EXPECT_EQ(findings[0].evidence[5].place, (Place{{0}, 30, 1}));
}

TEST(EvaluateRules, KeepsNoEvidenceOfPassesUnlessAsked) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.wire("W1", 5.0, 0.75);
    bench.wire("W2", 50.0, 0.75);
    const auto findings = bench.evaluate(EvidenceDepth::unless_passing);
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_TRUE(findings[0].evidence.empty());
    EXPECT_TRUE(findings[0].margin);
    EXPECT_FALSE(findings[1].evidence.empty());
}

TEST(EvaluateRules, SaysWhatTheTableDoesNotHold) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.wire("W1", 1.0, 0.5);
    const auto findings = bench.evaluate();
    ASSERT_EQ(findings[0].verdict, Verdict::cannot_tell);
    EXPECT_TRUE(findings[0].missing.empty());
    ASSERT_EQ(findings[0].reasons.size(), 1U);
    EXPECT_NE(findings[0].reasons[0].find("'wire-current'"), std::string::npos) << findings[0].reasons[0];
}

TEST(EvaluateRules, AppliesOnlyWhereItSaysSo) {
    struct Row {
        ExprValue tinned;
        double current;
        const char* verdict; // empty: not judged
    };
    const Unknown untold{{"whether it is tinned"}, {}};
    const Row rows[] = {{true, 1.0, "pass"}, {true, 3.0, "fail"},   {false, 1.0, ""},
                        {false, 3.0, ""},    {untold, 1.0, "pass"}, {untold, 3.0, "cannot tell"}};
    for (const Row& row : rows) {
        Bench bench;
        std::string text = rule_text("current <= \"2 A\"", "applies = 'tinned_end'\n");
        text.replace(text.find("wire"), 4, "terminal");
        bench.load("some-rule.toml", text);
        const SubjectId terminal = bench.add(SubjectKind::terminal, "fuse.in");
        bench.set(terminal, "tinned_end", row.tinned);
        bench.set(terminal, "current", AnyQuantity{row.current, dim::current});
        const auto findings = bench.evaluate();
        ASSERT_EQ(findings.size(), *row.verdict == '\0' ? 0U : 1U);
        if (!findings.empty()) {
            EXPECT_EQ(verdict_names[static_cast<std::size_t>(findings[0].verdict)], row.verdict);
        }
    }
}

TEST(EvaluateRules, NeverPassesOnAFactThatNobodyComputed) {
    Bench bench;
    bench.load("some-rule.toml", rule_text("current <= \"2 A\""));
    bench.add(SubjectKind::wire, "W1");
    bench.set(bench.add(SubjectKind::wire, "W2"), "current", Unknown{});
    for (const Finding& finding : bench.evaluate()) {
        EXPECT_EQ(finding.verdict, Verdict::cannot_tell);
        const std::string name = bench.facts.subject(finding.subject).name;
        EXPECT_EQ(finding.reasons, Strings{"current of " + name + " is not known"});
    }
}

TEST(EvaluateRules, JudgesOnlyRefusingRulesWhenAsked) {
    Bench bench;
    bench.add_rule("a-rule.toml", rule_text("current <= \"2 A\""));
    bench.add_rule("b-rule.toml", rule_text("current <= \"2 A\"", "refuses = true\n"));
    ASSERT_TRUE(bench.read().empty());
    bench.wire("W1", 1.0, 1.0);
    const auto findings = evaluate_rules(bench.rules, bench.facts, bench.policy, bench.handbook, true);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].rule->name, "b-rule");
}

TEST(EvaluateRules, FollowsThePolicyItIsGivenByName) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.wire("W1", 5.0, 0.75);
    bench.policy.items.insert(bench.policy.items.begin(),
                              PolicyItem{"other", {9.0, dim::number}, {9.0, dim::number}, "", "", {}, false});
    EXPECT_EQ(bench.evaluate()[0].needs, "5.00 A <= 8.32 A");
    bench.policy.items.pop_back();
    EXPECT_EQ(bench.evaluate()[0].verdict, Verdict::cannot_tell);
}

TEST(EvaluateRules, TreatsNoLimitAsANumberThatComparesAsUsual) {
    Bench bench;
    bench.load("some-rule.toml", rule_text("fuse_operating_current <= \"10 A\" * loaded_circuits", "",
                                           "{subject}: {fuse_operating_current}."));
    bench.set(bench.wire("W1", 1.0, 1.0), "fuse_operating_current",
              AnyQuantity{std::numeric_limits<double>::infinity(), dim::current});
    const auto findings = bench.evaluate();
    EXPECT_EQ(findings[0].verdict, Verdict::fail);
    EXPECT_EQ(findings[0].margin, 0.0);
    EXPECT_EQ(findings[0].needs, "no limit <= 10.0 A");
    EXPECT_EQ(message(findings[0], bench.facts), "W1: no limit.");
}

TEST(EvaluateRules, TurnsANegatedComparisonRoundForPeople) {
    Bench bench;
    bench.load("some-rule.toml", rule_text("not current > \"2 A\""));
    bench.wire("W1", 3.0, 1.0);
    EXPECT_EQ(bench.evaluate()[0].needs, "3.00 A <= 2.00 A");
}

TEST(SortFindings, PutsTheWorstFirst) {
    Bench bench;
    const auto advice = [](std::string text) { return text.replace(text.find("hazard"), 6, "advice"); };
    bench.add_rule("c-rule.toml", advice(rule_text("current <= \"2 A\"")));
    bench.add_rule("b-rule.toml", rule_text("current <= \"2 A\""));
    bench.add_rule("a-rule.toml", rule_text("current <= \"2 A\""));
    ASSERT_TRUE(bench.read().empty());
    bench.wire("W1", 1.0, 1.0, 1);
    bench.wire("W2", 4.0, 1.0, 9);
    bench.wire("W3", 4.0, 1.0, 2);
    bench.wire("W4", 8.0, 1.0, 3);
    bench.set(bench.wire("W5", 0.0, 1.0, 4), "current", Unknown{{"current"}, {}});
    auto findings = bench.evaluate();
    std::ranges::reverse(findings);
    sort_findings(findings, bench.facts);
    Strings order;
    for (const Finding& finding : findings)
        order.push_back(finding.rule->name.substr(0, 1) + bench.facts.subject(finding.subject).name);
    EXPECT_EQ(order, (Strings{"aW4", "bW4", "aW3", "bW3", "aW2", "bW2", "aW5", "bW5", "aW1", "bW1", "cW4", "cW3", "cW2",
                              "cW5", "cW1"}));
}

} // namespace
} // namespace trivet
