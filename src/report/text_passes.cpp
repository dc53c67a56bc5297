#include "report/text_passes.h"

#include "report/wording.h"

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

std::string values_to_confirm(const Assessment& assessment, const Sources& sources) {
    std::set<std::string> lines;
    for (const Finding& finding : assessment.findings)
        for (const Evidence& evidence : finding.evidence)
            if (evidence.certainty == Certainty::typical)
                lines.insert(fmt::format("  {}: {} {}  ({}:{})\n", assessment.facts.subject(finding.subject).name,
                                         evidence.name, evidence.value, sources.name(evidence.place.file),
                                         evidence.place.line));
    if (lines.empty()) return {};
    std::string out = "Typical values these verdicts rest on; confirm them on your parts' datasheets:\n";
    for (const std::string& line : lines) out += line;
    return out + "\n";
}

} // namespace trivet
