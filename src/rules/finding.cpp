#include "rules/finding.h"

#include <algorithm>
#include <limits>
#include <string_view>
#include <unordered_map>

namespace trivet {
namespace {

// What decides the order, in order; compared as plain numbers, since a large design has a million findings.
struct SortKey {
    std::uint32_t severity = 0; // consequence, then verdict
    double margin = 0.0;
    Place place;
    std::uint32_t rule = 0; // its rank by name
    SubjectId subject;
    std::uint32_t index = 0;

    friend bool operator<(const SortKey& a, const SortKey& b) {
        if (a.severity != b.severity) return a.severity < b.severity;
        if (a.margin != b.margin) return a.margin < b.margin;
        if (a.place != b.place) return a.place < b.place;
        if (a.rule != b.rule) return a.rule < b.rule;
        if (a.subject != b.subject) return a.subject < b.subject;
        return a.index < b.index;
    }
};

std::uint32_t rank(Verdict verdict) {
    switch (verdict) {
    case Verdict::fail:
        return 0;
    case Verdict::cannot_tell:
        return 1;
    case Verdict::pass:
        break;
    }
    return 2;
}

// A failure without a number has nothing to spare; a pass without one is not thin.
double sort_margin(const Finding& finding) {
    if (finding.margin) return *finding.margin;
    return finding.verdict == Verdict::fail ? 0.0 : std::numeric_limits<double>::infinity();
}

using RuleRanks = std::unordered_map<const Rule*, std::uint32_t>;

RuleRanks ranks_by_name(const std::vector<Finding>& findings) {
    RuleRanks ranks;
    for (const Finding& finding : findings) ranks.try_emplace(finding.rule, 0);
    std::vector<const Rule*> rules;
    for (const auto& entry : ranks) rules.push_back(entry.first);
    std::ranges::sort(rules, {}, [](const Rule* rule) { return std::string_view(rule->name); });
    for (std::uint32_t i = 0; i < rules.size(); ++i) ranks[rules[i]] = i;
    return ranks;
}

} // namespace

void sort_findings(std::vector<Finding>& findings, const FactTable& facts) {
    const RuleRanks ranks = ranks_by_name(findings);
    std::vector<SortKey> keys;
    keys.reserve(findings.size());
    for (std::size_t i = 0; i < findings.size(); ++i) {
        const Finding& finding = findings[i];
        const auto severity = static_cast<std::uint32_t>(finding.rule->consequence) * 4 + rank(finding.verdict);
        keys.push_back({severity, sort_margin(finding), facts.subject(finding.subject).place, ranks.at(finding.rule),
                        finding.subject, static_cast<std::uint32_t>(i)});
    }
    std::sort(keys.begin(), keys.end());
    std::vector<Finding> sorted;
    sorted.reserve(findings.size());
    for (const SortKey& key : keys) sorted.push_back(std::move(findings[key.index]));
    findings = std::move(sorted);
}

} // namespace trivet
