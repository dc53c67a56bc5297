#include "report/arithmetic.h"

#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace trivet {

namespace {

// Named by the requirement itself, not by a let behind it or only by its sentences.
bool is_essential(const Evidence& evidence, const Rule& rule) {
    return std::ranges::any_of(rule.require.nodes, [&](const ExprNode& node) {
        return node.kind == ExprKind::name && node.text == evidence.name;
    });
}

std::string note_on(const Evidence& evidence, Depth depth) {
    const bool with_formula = depth == Depth::all && !evidence.formula.empty();
    std::string note = with_formula ? "= " + evidence.formula : evidence.circumstance;
    if (evidence.certainty == Certainty::typical)
        note += note.empty() ? "typical: confirm it" : " (typical: confirm it)";
    return note;
}

} // namespace

std::string arithmetic(const Finding& finding, std::size_t width, Depth depth) {
    std::string out;
    if (!finding.needs.empty()) {
        const std::string word = finding.verdict == Verdict::pass ? "holds" : "does not hold";
        const std::string margin = finding.margin ? fmt::format(" (margin {:.2f})", *finding.margin) : std::string{};
        out += wrapped("needs  ", fmt::format("{} {}{}", finding.needs, word, margin), 4, width);
    }
    std::vector<const Evidence*> shown;
    for (const Evidence& evidence : finding.evidence)
        if (depth == Depth::all || is_essential(evidence, *finding.rule)) shown.push_back(&evidence);
    std::size_t name_width = 0;
    std::size_t value_width = 0;
    for (const Evidence* evidence : shown) {
        name_width = std::max(name_width, evidence->name.size());
        value_width = std::max(value_width, evidence->value.size());
    }
    for (const Evidence* evidence : shown) {
        std::string label = fmt::format("{:<{}}  {:<{}}  ", evidence->name, name_width, evidence->value, value_width);
        const std::string note = note_on(*evidence, depth);
        if (note.empty()) label.erase(label.find_last_not_of(' ') + 1);
        out += wrapped(label, note, 7, std::max<std::size_t>(width, label.size() + 40));
    }
    return out;
}

} // namespace trivet
