#include "support/rulebook.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>

namespace trivet::testing {
namespace {

constexpr std::size_t lines_of_one_change = 3;

class FixturesOf : public ::testing::TestWithParam<std::string> {
protected:
    const std::string& rule() const { return GetParam(); }
    std::vector<const Fixture*> fixtures(std::string_view kind) const { return rulebook().fixtures(rule(), kind); }
    std::string place(std::string_view file) const {
        return rulebook().shown(rulebook().fixture_folder(rule()) / file);
    }
    static std::string place(const Fixture& fixture) { return rulebook().shown(fixture.path); }
};

// "fuse-voltage fails at main_fuse, line 12"
std::string words(const Finding& finding, const FactTable& facts) {
    constexpr std::array verdicts{"passes", "fails", "cannot be told"};
    return fmt::format("{} {} at {}, line {}", finding.rule->name, verdicts[static_cast<std::size_t>(finding.verdict)],
                       facts.subject(finding.subject).name, line_of(finding, facts));
}

bool is_serious(const Finding& finding) {
    return finding.rule->consequence == Consequence::hazard || finding.rule->consequence == Consequence::damage;
}

bool is_marked(const Fixture& fixture, const Finding& finding) {
    const std::uint32_t line = line_of(finding, fixture.assessment.facts);
    return std::ranges::any_of(fixture.markers, [&](const Marker& marker) {
        return marker.line == line && marker.rule == finding.rule->name && marker.verdict == finding.verdict;
    });
}

bool has_finding(const Fixture& fixture, const Marker& marker) {
    return std::ranges::any_of(fixture.assessment.findings, [&](const Finding& finding) {
        return marker.line == line_of(finding, fixture.assessment.facts) && marker.rule == finding.rule->name &&
               marker.verdict == finding.verdict;
    });
}

void expect_markers_found(const Fixture& fixture) {
    for (const Marker& marker : fixture.markers) {
        EXPECT_NE(rulebook().rules().find(marker.rule), nullptr)
            << rulebook().shown(fixture.path) << ":" << marker.line << ": there is no rule '" << marker.rule << "'";
        EXPECT_TRUE(has_finding(fixture, marker))
            << rulebook().shown(fixture.path) << ":" << marker.line << ": marked, but " << marker.rule << " does not "
            << (marker.verdict == Verdict::fail ? "fail" : "answer 'cannot tell'") << " here";
    }
}

TEST_P(FixturesOf, AreAllThere) {
    for (const std::string_view kind : {"pass", "fail"})
        EXPECT_TRUE(std::filesystem::exists(rulebook().fixture_folder(rule()) / fmt::format("{}.toml", kind)))
            << place(fmt::format("{}.toml", kind)) << " is missing: "
            << (kind == "pass" ? "write the smallest sound design in which the rule is judged and passes"
                               : "copy pass.toml, make one change that matters, and end the line to blame with '#~ " +
                                     rule() + "'");
    const auto reasons = reasons_in(rulebook().in_tree("tests/rules/no-cannot-tell.txt"));
    const bool excused = reasons.contains(rule());
    EXPECT_EQ(fixtures("cannot-tell").empty(), excused)
        << (excused ? "has a cannot-tell fixture: take it off tests/rules/no-cannot-tell.txt"
                    : place("cannot-tell.toml") +
                          " is missing: copy pass.toml, take the deciding value out, and end the "
                          "line to blame with '#~? " +
                          rule() + "'; or add '" + rule() + " = reason' to tests/rules/no-cannot-tell.txt");
    if (excused) {
        EXPECT_NE(reasons.at(rule()), "") << "tests/rules/no-cannot-tell.txt: say why for " << rule();
    }
}

TEST_P(FixturesOf, AreReadWithoutErrors) {
    for (const Fixture* fixture : rulebook().fixtures(rule())) {
        EXPECT_EQ(fixture->errors, "") << place(*fixture);
        EXPECT_TRUE(fixture->text.starts_with("# ")) << place(*fixture) << ": say in a comment on line 1 what it shows";
    }
}

TEST_P(FixturesOf, PassWhereTheySaySo) {
    for (const Fixture* fixture : fixtures("pass")) {
        std::size_t judged = 0;
        for (const Finding& finding : fixture->assessment.findings) {
            const bool own = finding.rule->name == rule();
            if (own) ++judged;
            const bool allowed =
                own ? finding.verdict == Verdict::pass : !(is_serious(finding) && finding.verdict == Verdict::fail);
            EXPECT_TRUE(allowed) << place(*fixture) << " is not sound: " << words(finding, fixture->assessment.facts)
                                 << "\n    " << message(finding, fixture->assessment.facts);
        }
        EXPECT_GE(judged, 1U) << place(*fixture) << ": the rule is not judged on anything in it";
        EXPECT_TRUE(fixture->markers.empty()) << place(*fixture) << ": a pass has no markers";
    }
}

// Every verdict that is not a pass and differs from the counterpart's must be marked; none may vanish.
void expect_only_marked_changes(const Fixture& fixture, const Fixture& base) {
    const auto before = findings_by_key(base.assessment);
    const auto after = findings_by_key(fixture.assessment);
    for (const auto& [key, finding] : after) {
        const auto old = before.find(key);
        const bool same = old != before.end() && old->second->verdict == finding->verdict;
        if (same || is_marked(fixture, *finding)) continue;
        const bool harmless =
            finding->verdict == Verdict::pass && (old == before.end() || old->second->verdict == Verdict::pass);
        EXPECT_TRUE(harmless) << rulebook().shown(fixture.path) << ": " << words(*finding, fixture.assessment.facts)
                              << ", unlike in " << base.name << " and without a marker\n    "
                              << message(*finding, fixture.assessment.facts);
    }
}

TEST_P(FixturesOf, FailByOneChange) {
    for (const Fixture* fixture : fixtures("fail")) {
        const Fixture* base = rulebook().counterpart(rule(), *fixture);
        ASSERT_NE(base, nullptr) << place("pass.toml") << " is missing";
        EXPECT_LE(changed_lines(base->text, fixture->text), lines_of_one_change)
            << place(*fixture) << " differs in more than one change from " << base->name << ".toml";
        EXPECT_TRUE(std::ranges::any_of(
            fixture->markers,
            [&](const Marker& marker) { return marker.rule == rule() && marker.verdict == Verdict::fail; }))
            << place(*fixture) << ": mark the line to blame with '#~ " << rule() << "'";
        expect_markers_found(*fixture);
        expect_only_marked_changes(*fixture, *base);
    }
}

// What is missing and what stands in the way, as one text.
std::string obstacles(const Finding& finding) {
    std::string all;
    for (const auto& text : finding.missing) all += text + "\n";
    for (const auto& text : finding.reasons) all += text + "\n";
    return all;
}

TEST_P(FixturesOf, CannotTellAndNameTheValue) {
    for (const Fixture* fixture : fixtures("cannot-tell")) {
        EXPECT_TRUE(std::ranges::any_of(
            fixture->markers,
            [&](const Marker& marker) { return marker.rule == rule() && marker.verdict == Verdict::cannot_tell; }))
            << place(*fixture) << ": mark the line to blame with '#~? " << rule() << "'";
        expect_markers_found(*fixture);
        for (const Finding& finding : fixture->assessment.findings) {
            if (finding.rule->name != rule() || finding.verdict == Verdict::pass) continue;
            const FactTable& facts = fixture->assessment.facts;
            EXPECT_TRUE(is_marked(*fixture, finding)) << place(*fixture) << ": not marked: " << words(finding, facts);
            if (finding.verdict != Verdict::cannot_tell) continue;
            EXPECT_NE(obstacles(finding), "") << place(*fixture) << ": nothing is named as missing";
            for (const Marker& marker : fixture->markers) {
                if (marker.rule != rule() || marker.line != line_of(finding, facts)) continue;
                EXPECT_NE(obstacles(finding).find(marker.fragment), std::string::npos)
                    << place(*fixture) << ":" << marker.line << ": expected '" << marker.fragment
                    << "', but missing is " << obstacles(finding);
            }
        }
    }
}

// Taking a value out must not turn a pass into a failure somewhere else.
TEST_P(FixturesOf, CannotTellWithoutFailures) {
    for (const Fixture* fixture : fixtures("cannot-tell")) {
        const Fixture* base = rulebook().counterpart(rule(), *fixture);
        ASSERT_NE(base, nullptr) << place("pass.toml") << " is missing";
        const auto before = findings_by_key(base->assessment);
        for (const auto& [key, finding] : findings_by_key(fixture->assessment)) {
            const auto old = before.find(key);
            const bool new_failure =
                finding->verdict == Verdict::fail && (old == before.end() || old->second->verdict == Verdict::pass);
            EXPECT_TRUE(!new_failure || is_marked(*fixture, *finding))
                << place(*fixture) << ": " << words(*finding, fixture->assessment.facts) << ", unlike in "
                << base->name;
        }
    }
}

std::vector<std::string> rule_names() {
    std::vector<std::string> names;
    for (const Rule& rule : rulebook().rules().rules) names.push_back(rule.name);
    return names;
}

INSTANTIATE_TEST_SUITE_P(Rules, FixturesOf, ::testing::ValuesIn(rule_names()), [](const auto& instance) {
    std::string name = instance.param;
    std::ranges::replace(name, '-', '_');
    return name;
});

} // namespace
} // namespace trivet::testing
