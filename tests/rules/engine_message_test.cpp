#include "rules/engine_support.h"
#include "rules/phrases.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

using testing::Bench;
using testing::rule_text;
using Strings = std::vector<std::string>;

Unknown no_length(const std::string& wire) { return {{"area of " + wire + " (state it in [[wire]])"}, {}}; }

TEST(Message, FillsInTheNumbers) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.wire("W1", 10.0, 0.75);
    const Finding finding = bench.evaluate()[0];
    EXPECT_EQ(message(finding, bench.facts), "W1 carries 10.0 A but may carry 8.32 A (1 in its bundle).");
    EXPECT_EQ(remedy(finding, bench.facts), "Take a wire thicker than 0.750 mm², or split the load.");
}

TEST(Message, SaysWhatIsMissingAndWhereToStateIt) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    bench.set(bench.wire("W1", 10.0, 0.75), "area", no_length("W1"));
    bench.wire("W2", 10.0, 0.5);
    const auto findings = bench.evaluate();
    EXPECT_EQ(message(findings[0], bench.facts),
              "Cannot tell whether a wire carries no more than its rated current: area of W1 is "
              "not stated (state it in [[wire]]).");
    EXPECT_EQ(remedy(findings[0], bench.facts), "State area of W1 in [[wire]].");
    EXPECT_TRUE(message(findings[1], bench.facts)
                    .starts_with("Cannot tell for W2 whether a wire carries no more than its rated current: "))
        << message(findings[1], bench.facts);
}

TEST(Message, StartsWithACapitalButLeavesNamesAlone) {
    struct Row {
        const char* message;
        const char* rendered;
    };
    const Row rows[] = {{"{subject} is wrong.", "main_wire is wrong."},
                        {"the wire {subject} is wrong.", "The wire main_wire is wrong."},
                        {"{insulation} is too weak.", "Pvc is too weak."},
                        {"{area} of {insulation_class}.", "1.00 mm² of unstated."}};
    for (const Row& row : rows) {
        Bench bench;
        bench.load("some-rule.toml", rule_text("current <= \"2 A\"", "", row.message));
        const SubjectId wire = bench.wire("main_wire", 3.0, 1.0);
        bench.set(wire, "insulation", std::string("pvc"));
        bench.set(wire, "insulation_class", Unknown{{"insulation class of main_wire"}, {}});
        EXPECT_EQ(message(bench.evaluate()[0], bench.facts), row.rendered);
    }
}

TEST(Message, OfAPassRepeatsTheRequirement) {
    Bench bench;
    bench.load("some-rule.toml", rule_text("current <= \"2 A\""));
    bench.wire("W1", 1.0, 1.0);
    EXPECT_EQ(message(bench.evaluate()[0], bench.facts), "W1: a wire is as it should be (1.00 A <= 2.00 A).");
}

TEST(Phrases, EnumerateAndFitTitlesIntoSentences) {
    const Strings five{"a", "b", "c", "d", "e"};
    EXPECT_EQ(enumerated(std::span(five).first(1)), "a");
    EXPECT_EQ(enumerated(std::span(five).first(2)), "a and b");
    EXPECT_EQ(enumerated(std::span(five).first(4)), "a, b, c and d");
    EXPECT_EQ(enumerated(five), "a, b, c and 2 more");
    EXPECT_EQ(inside_sentence("A wire is thick."), "a wire is thick");
    EXPECT_EQ(inside_sentence("DC ratings count"), "DC ratings count");
    EXPECT_EQ(obstacle({"x of a (state it in [a])", "y of a (state it in [a])"}, {}),
              "x of a and y of a are not stated (state it in [a])");
    EXPECT_EQ(obstacle({"x of a (state it in [a])", "y of b (state it in [b])"}, {"'p / q' divides by zero"}),
              "x of a (state it in [a]) and y of b (state it in [b]) are not stated; 'p / q' divides by zero");
}

TEST(Group, PutsTogetherWhatDiffersOnlyInTheSubject) {
    Bench bench;
    bench.load("wire-current.toml", testing::current_rule);
    for (const char* name : {"W1", "W2", "W12"}) bench.wire(name, 10.0, 0.75);
    bench.wire("W4", 11.0, 0.75);
    auto findings = bench.evaluate();
    sort_findings(findings, bench.facts);
    const auto groups = group(findings, bench.facts);
    ASSERT_EQ(groups.size(), 2U);
    EXPECT_EQ(groups[0].sentence, "W4 carries 11.0 A but may carry 8.32 A (1 in its bundle).");
    EXPECT_EQ(groups[1].sentence, "W1 carries 10.0 A but may carry 8.32 A (1 in its bundle). The same for W2 and W12.");
    EXPECT_EQ(groups[1].members, (std::vector<std::size_t>{1, 2, 3}));
}

TEST(Group, SaysOnceWhatManyRulesMiss) {
    Bench bench;
    bench.add_rule("first-rule.toml", rule_text("area >= \"1 mm2\""));
    bench.add_rule("second-rule.toml",
                   rule_text("area >= \"2 mm2\"")
                       .replace(0, std::string("subject = \"wire\"\nconsequence = \"hazard\"").size(),
                                "subject = \"wire\"\nconsequence = \"advice\""));
    ASSERT_TRUE(bench.read().empty());
    for (int i = 1; i <= 20; ++i) {
        const std::string name = "W" + std::to_string(i);
        bench.set(bench.wire(name + " (supply.+ to fuse.in)", 1.0, 1.0), "area", no_length(name));
    }
    auto findings = bench.evaluate();
    sort_findings(findings, bench.facts);
    const auto groups = group(findings, bench.facts);
    ASSERT_EQ(groups.size(), 1U);
    EXPECT_EQ(groups[0].members.size(), 40U);
    EXPECT_EQ(groups[0].subjects.size(), 20U);
    EXPECT_EQ(groups[0].consequence, Consequence::hazard);
    EXPECT_EQ(groups[0].sentence,
              "Cannot tell: area of W1, W2, W3 and 17 more is not stated (state it in [[wire]]). Rules that need it: "
              "first-rule and second-rule.");
}

TEST(Group, KeepsDifferentReasonsApart) {
    Bench bench;
    bench.load("some-rule.toml", rule_text("area >= \"1 mm2\" and current < \"5 A\""));
    bench.set(bench.wire("W1", 1.0, 1.0), "area", no_length("W1"));
    bench.set(bench.wire("W2", 1.0, 1.0), "current", Unknown{{}, {"no bodies are described"}});
    bench.set(bench.wire("W3", 1.0, 1.0), "current", Unknown{{}, {"no bodies are described"}});
    const auto groups = group(bench.evaluate(), bench.facts);
    ASSERT_EQ(groups.size(), 2U);
    EXPECT_EQ(groups[1].sentence,
              "Cannot tell for W2 and W3 whether a wire is as it should be: no bodies are described.");
}

} // namespace
} // namespace trivet
