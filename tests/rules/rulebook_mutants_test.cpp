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

// A mistake in the formula of a rule must change what some fixture says. Where it does not, the fixtures do not pin the
// rule: they need a case at the boundary, or a part of the formula does nothing.
TEST_P(MutantsOf, DieByAFixture) {
    const Rule& rule = *rulebook().rules().find(GetParam());
    const std::filesystem::path folder = rulebook().fixture_folder(rule.name);
    const auto equivalent = reasons_in(folder / "equivalent-mutants.txt");
    const auto fixtures = rulebook().fixtures(rule.name);
    std::vector<Verdicts> sound;
    for (const Fixture* fixture : fixtures) sound.push_back(verdicts(rule, *fixture));

    std::set<std::string> changes;
    for (const Mutant& mutant : mutants_of(rule)) {
        changes.insert(mutant.change);
        bool dies = false;
        for (std::size_t i = 0; i < fixtures.size() && !dies; ++i)
            dies = verdicts(mutant.rule, *fixtures[i]) != sound[i];
        const bool excused = equivalent.contains(mutant.change);
        EXPECT_TRUE(dies || excused) << mutant.change << "\n    changes no verdict: add " << rulebook().shown(folder)
                                     << "/pass-....toml or fail-....toml with a value between the two formulas,\n    "
                                        "or the change and ' = reason'"
                                     << " to " << rulebook().shown(folder / "equivalent-mutants.txt");
        EXPECT_FALSE(dies && excused) << rulebook().shown(folder / "equivalent-mutants.txt") << ": '" << mutant.change
                                      << "' does change a verdict; delete its line";
    }
    for (const auto& [change, reason] : equivalent) {
        EXPECT_TRUE(changes.contains(change)) << rulebook().shown(folder) << ": there is no mutant '" << change << "'";
        EXPECT_FALSE(reason.empty()) << rulebook().shown(folder) << ": say why '" << change << "' changes nothing";
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

std::vector<std::string> changes_of(const std::string& expressions) {
    Sources sources;
    const std::string text =
        "subject = \"wire\"\nconsequence = \"advice\"\ntitle = \"T\"\nmessage = \"M.\"\nwhy = \"W.\"\n"
        "remedy = \"R.\"\nlimits = \"L.\"\nsource = \"common practice\"\n" +
        expressions;
    const SourceFile file = sources.add("rules/wire/made-up.toml", text);
    const auto read = read_rules({&file, 1}, rulebook().policy(), rulebook().handbook());
    std::vector<std::string> changes;
    if (!read) return changes;
    for (const Mutant& mutant : mutants_of(read.value->set.rules.front()))
        changes.push_back(mutant.change + " -> " + to_text(mutant.rule.require));
    return changes;
}

TEST(Mutants, TurnDropReplaceAndMove) {
    EXPECT_EQ(
        changes_of("require = 'current <= 2 * fault_current or not (area < \"1 mm2\")'\n"),
        (std::vector<std::string>{
            "require: only 'current <= 2 * fault_current' of 'current <= 2 * fault_current or not (area < \"1 mm2\")'"
            " -> (current <= (2 * fault_current))",
            "require: only 'not (area < \"1 mm2\")' of 'current <= 2 * fault_current or not (area < \"1 mm2\")'"
            " -> (not (area < \"1 mm2\"))",
            "require: 'current <= 2 * fault_current' turned round -> ((current >= (2 * fault_current)) or (not (area "
            "< \"1 mm2\")))",
        }));
}

} // namespace
} // namespace trivet::testing
