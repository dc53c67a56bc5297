#include "rules/evaluate_rules.h"
#include "support/mutants.h"
#include "support/rulebook.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

namespace trivet::testing {
namespace {

using Verdicts = std::vector<std::pair<SubjectId, Verdict>>;

Verdicts verdicts(const Rule& rule, const Fixture& fixture) {
    Verdicts found;
    const RuleSet alone{{rule}};
    for (const Finding& finding : evaluate_rules(alone, fixture.assessment.facts, fixture.assessment.policy,
                                                 rulebook().handbook(), false, EvidenceDepth::unless_passing))
        found.emplace_back(finding.subject, finding.verdict);
    return found;
}

class MutantsOf : public ::testing::TestWithParam<std::string> {};

bool changes_a_verdict(const Mutant& mutant) {
    const Rule& sound = *rulebook().rules().find(mutant.rule.name);
    return std::ranges::any_of(rulebook().fixtures(sound.name), [&](const Fixture* fixture) {
        return verdicts(mutant.rule, *fixture) != verdicts(sound, *fixture);
    });
}

// A let that several rules share is pinned by the fixtures of any of them.
bool changes_another_rule(const Mutant& mutant) {
    for (const Rule& other : rulebook().rules().rules) {
        if (other.subject != mutant.rule.subject || other.name == mutant.rule.name) continue;
        for (const Mutant& alike : mutants_of(other))
            if (alike.is_shared && alike.change == mutant.change && changes_a_verdict(alike)) return true;
    }
    return false;
}

// A mistake in the formula of a rule must change what some fixture says. Where it does not, the fixtures do not pin the
// rule: they need a case at the boundary, or a part of the formula does nothing.
TEST_P(MutantsOf, DieByAFixture) {
    const Rule& rule = *rulebook().rules().find(GetParam());
    const std::string folder = rulebook().shown(rulebook().fixture_folder(rule.name));
    const std::string list = folder + "/equivalent-mutants.txt";
    const auto equivalent = reasons_in(rulebook().in_tree(list));
    std::set<std::string> changes;
    for (const Mutant& mutant : mutants_of(rule)) {
        changes.insert(mutant.change);
        const bool dies = changes_a_verdict(mutant) || (mutant.is_shared && changes_another_rule(mutant));
        const bool excused = equivalent.contains(mutant.change);
        EXPECT_TRUE(dies || excused) << mutant.change << "\n    changes no verdict: add " << folder
                                     << "/pass-....toml or fail-....toml with a value between the two formulas,\n"
                                     << "    or, if nothing can tell them apart, the line '" << mutant.change
                                     << " = reason' to " << list;
        EXPECT_FALSE(dies && excused) << list << ": '" << mutant.change << "' does change a verdict; delete its line";
    }
    for (const auto& [change, reason] : equivalent) {
        EXPECT_TRUE(changes.contains(change)) << list << ": there is no mutant '" << change << "'";
        EXPECT_FALSE(reason.empty()) << list << ": say why '" << change << "' changes nothing";
    }
}

std::vector<std::string> rule_names() {
    std::vector<std::string> names;
    for (const Rule& rule : rulebook().rules().rules) names.push_back(rule.name);
    return names;
}

INSTANTIATE_TEST_SUITE_P(Rules, MutantsOf, ::testing::ValuesIn(rule_names()), [](const auto& instance) {
    std::string name = instance.param;
    std::ranges::replace(name, '-', '_');
    return name;
});

// What each mutant of a made-up rule about a wire requires.
std::vector<std::string> mutants(const std::string& formula, const std::string& text = "M.") {
    Sources sources;
    const SourceFile file = sources.add("rules/wire/made-up.toml",
                                        "subject = \"wire\"\nconsequence = \"advice\"\ntitle = \"T\"\nwhy = \"W.\"\n"
                                        "remedy = \"R.\"\nlimits = \"L.\"\nsource = \"none\"\nmessage = \"" +
                                            text + "\"\n" + formula);
    const auto read = read_rules({&file, 1}, rulebook().policy(), rulebook().handbook());
    std::vector<std::string> required;
    if (!read) return {rulebook().text_of(read.errors)};
    for (const Mutant& mutant : mutants_of(read.value->set.rules.front()))
        required.push_back(to_text(mutant.rule.require));
    std::ranges::sort(required);
    return required;
}

using Texts = std::vector<std::string>;

TEST(Mutants, TurnComparisonsRound) {
    EXPECT_EQ(mutants("require = 'current <= fault_current'"), Texts{"(current >= fault_current)"});
    EXPECT_EQ(mutants("require = 'insulation == \"pvc\"'"), Texts{"(insulation != 'pvc')"});
}

TEST(Mutants, KeepOneSideAndLeaveOutNot) {
    EXPECT_EQ(
        mutants("require = 'before_battery_fuse and not before_battery_fuse'"),
        (Texts{"(before_battery_fuse and before_battery_fuse)", "(not before_battery_fuse)", "before_battery_fuse"}));
    EXPECT_EQ(mutants("require = 'min(current, fault_current) <= fault_current'"),
              (Texts{"(current <= fault_current)", "(fault_current <= fault_current)",
                     "(min(current, fault_current) >= fault_current)"}));
}

TEST(Mutants, ReplaceEachFactorByOne) {
    EXPECT_EQ(mutants("require = 'current / fault_current <= loaded_circuits * outputs_joined * 1'"),
              (Texts{"((1 / fault_current) <= ((loaded_circuits * outputs_joined) * 1))",
                     "((current / 1) <= ((loaded_circuits * outputs_joined) * 1))",
                     "((current / fault_current) <= ((1 * outputs_joined) * 1))",
                     "((current / fault_current) <= ((loaded_circuits * 1) * 1))",
                     "((current / fault_current) <= ((loaded_circuits * outputs_joined) * 0.8))",
                     "((current / fault_current) <= ((loaded_circuits * outputs_joined) * 1.2))",
                     "((current / fault_current) >= ((loaded_circuits * outputs_joined) * 1))"}));
}

TEST(Mutants, MoveConstantsByAFifth) {
    EXPECT_EQ(mutants("require = 'loaded_circuits <= 10'"),
              (Texts{"(loaded_circuits <= 12)", "(loaded_circuits <= 8)", "(loaded_circuits >= 10)"}));
    EXPECT_EQ(mutants("require = 'current <= \"1 A\"'").size(), 3U);
    EXPECT_EQ(mutants("require = 'abs(current) >= \"0 A\"'").size(), 1U) << "zero cannot be moved";
}

TEST(Mutants, ChangeOnlyWhatDecides) {
    const std::string formula = "require = 'current <= half'\nlet.half = 'fault_current / outputs_joined'\n"
                                "let.shown = 'current * loaded_circuits'\n";
    EXPECT_EQ(mutants("applies = 'before_battery_fuse'\n" + formula, "Shows {shown}.").size(), 4U)
        << "require turned round, each factor of half, applies left out; nothing of a let that is only shown";
}

} // namespace
} // namespace trivet::testing
