#include "assess/assess.h"

#include "assess/gather.h"
#include "rules/evaluate_rules.h"

#include <algorithm>

namespace trivet {

namespace {

bool forbids_power(const Finding& finding) {
    const bool serious =
        finding.rule->consequence == Consequence::hazard || finding.rule->consequence == Consequence::damage;
    return serious && finding.verdict != Verdict::pass;
}

} // namespace

Assessment assess(const Design& design, const RuleSet& rules, const Policy& policy, const Handbook& handbook,
                  Detail detail) {
    Assessment result;
    result.policy = policy;
    for (const PolicyChange& change : design.policy) {
        Errors errors = apply(result.policy, change.name, change.text, change.place);
        result.errors.insert(result.errors.end(), errors.begin(), errors.end());
    }
    if (!result.errors.empty()) return result;

    auto analysis = std::make_shared<const Analysis>(analyse(design, result.policy, handbook));
    result.analysis = analysis;
    result.single_faults = fault_table(design, *analysis);
    result.facts = gather_facts(design, *analysis, result.single_faults, handbook);
    result.facts.describe_with([analysis](Circumstance key) {
        if (const auto situation = situation_of(key)) return analysis->heat.situations[*situation].text;
        const Extreme extreme{0.0, static_cast<std::uint32_t>(key >> 32U), static_cast<std::uint32_t>(key)};
        return describe(extreme, analysis->envelope, analysis->states, analysis->circuit);
    });

    const EvidenceDepth depth =
        detail == Detail::everything ? EvidenceDepth::everything : EvidenceDepth::unless_passing;
    std::vector<Finding> refusing = evaluate_rules(rules, result.facts, result.policy, handbook, true, depth);
    if (std::ranges::any_of(refusing, [](const Finding& f) { return f.verdict == Verdict::fail; })) {
        result.findings = std::move(refusing);
        std::erase_if(result.findings, [](const Finding& f) { return f.verdict == Verdict::pass; });
        result.fitness = Fitness::refused;
        return result;
    }
    result.findings = evaluate_rules(rules, result.facts, result.policy, handbook, false, depth);
    sort_findings(result.findings, result.facts);
    result.fitness = std::ranges::any_of(result.findings, forbids_power) ? Fitness::not_fit : Fitness::fit;
    return result;
}

} // namespace trivet
