#include "report/text_passes.h"

#include "report/wording.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace trivet {

namespace {

struct RulePasses {
    std::size_t asked = 0;
    std::size_t passed = 0;
    const Finding* thinnest = nullptr;
};

bool thinner(const Finding& a, const Finding* b) {
    if (b == nullptr) return true;
    const double none = std::numeric_limits<double>::infinity();
    return a.margin.value_or(none) < b->margin.value_or(none);
}

std::string margin_text(const Finding& finding) {
    if (!finding.margin) return "-";
    if (std::isinf(*finding.margin)) return "no load";
    return *finding.margin >= 100.0 ? std::string(">100") : fmt::format("{:.2f}", *finding.margin);
}

} // namespace

std::string passes_by_rule(const Assessment& assessment, const RuleSet& rules) {
    std::map<const Rule*, RulePasses> by_rule;
    for (const Finding& finding : assessment.findings) {
        RulePasses& entry = by_rule[finding.rule];
        ++entry.asked;
        if (finding.verdict != Verdict::pass) continue;
        ++entry.passed;
        if (thinner(finding, entry.thinnest)) entry.thinnest = &finding;
    }
    std::string out = "Rules that pass, with the thinnest margin (rating over load):\n";
    std::string unused;
    for (const Rule& rule : rules.rules) {
        const auto found = by_rule.find(&rule);
        if (found == by_rule.end()) {
            unused += fmt::format("  {}: {}\n", rule.name, rule.title);
            continue;
        }
        const RulePasses& entry = found->second;
        if (entry.thinnest == nullptr) continue;
        const Finding& thinnest = *entry.thinnest;
        out += fmt::format("  {:<28} {:>7}  {:>3} of {:<3} {}{}{}\n", rule.name, margin_text(thinnest), entry.passed,
                           entry.asked, assessment.facts.subject(thinnest.subject).name,
                           thinnest.needs.empty() ? "" : ": ", thinnest.needs);
    }
    if (!unused.empty()) out += "\nRules that apply to nothing here:\n" + unused;
    return out + "\n";
}

std::vector<std::string> values_to_confirm(const Assessment& assessment, const Sources& sources) {
    std::set<std::string> lines;
    for (std::uint32_t i = 0; i < assessment.facts.subjects().size(); ++i) {
        const Subject& subject = assessment.facts.subject({i});
        const FactsOfKind facts = facts_of(subject.kind);
        for (std::uint16_t f = facts.first; f < facts.first + facts.count; ++f) {
            const Fact* fact = assessment.facts.find({i}, {f});
            if (fact == nullptr || fact->certainty != Certainty::typical) continue;
            const auto* number = std::get_if<AnyQuantity>(&fact->value);
            if (number == nullptr) continue;
            lines.insert(fmt::format("{}: {} {} ({}:{})", subject.name, declaration({f}).name, to_text(*number),
                                     sources.name(fact->place.file), fact->place.line));
        }
    }
    return {lines.begin(), lines.end()};
}

} // namespace trivet
