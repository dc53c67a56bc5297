#include "report/worked_example.h"

#include "report/arithmetic.h"

#include <fmt/format.h>

namespace trivet {

std::string worked_example(const Rule& rule, const Assessment& assessment, const Sources& sources) {
    std::string out;
    for (const Finding& finding : assessment.findings) {
        if (finding.rule != &rule) continue;
        const Subject& subject = assessment.facts.subject(finding.subject);
        out += fmt::format("  {}:{}: {}: {}\n", sources.name(subject.place.file), subject.place.line, subject.name,
                           verdict_names[static_cast<std::size_t>(finding.verdict)]);
        out += arithmetic(finding, 100, Depth::all);
    }
    if (out.empty()) return "In this design the rule applies to nothing.\n";
    return "In this design:\n" + out;
}

} // namespace trivet
