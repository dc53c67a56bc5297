#include "report/arithmetic.h"

#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

std::string arithmetic(const Finding& finding, std::size_t width) {
    std::string out;
    if (!finding.needs.empty()) {
        const std::string word = finding.verdict == Verdict::pass ? "holds" : "does not hold";
        const std::string margin = finding.margin ? fmt::format("; margin {:.2f}", *finding.margin) : std::string{};
        out += wrapped("needs  ", fmt::format("{} ({}{})", finding.needs, word, margin), 4, width);
    }
    std::size_t name_width = 0;
    std::size_t value_width = 0;
    for (const Evidence& evidence : finding.evidence) {
        name_width = std::max(name_width, evidence.name.size());
        value_width = std::max(value_width, evidence.value.size());
    }
    for (const Evidence& evidence : finding.evidence) {
        std::string label = fmt::format("{:<{}}  {:<{}}  ", evidence.name, name_width, evidence.value, value_width);
        std::string note = evidence.formula.empty() ? evidence.circumstance : "= " + evidence.formula;
        if (evidence.certainty == Certainty::typical)
            note += note.empty() ? "typical: confirm it" : " (typical: confirm it)";
        if (note.empty()) label.erase(label.find_last_not_of(' ') + 1);
        out += wrapped(label, note, 7, std::max<std::size_t>(width, label.size() + 40));
    }
    return out;
}

} // namespace trivet
