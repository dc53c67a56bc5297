#pragma once

#include "assess/assess.h"
#include "source/file.h"

#include <string>

namespace trivet {

struct TextStyle {
    bool colour = false;     // only on a terminal, and only without NO_COLOR
    bool everything = false; // passes with margins, rules that apply to nothing, values to confirm
    std::size_t width = 100;
};

// The report of `trivet check`: verdict line, findings worst first in the GNU form `file:line:column: consequence:
// sentence [rule]` with the arithmetic under each, what the verdict rests on, the caution.
std::string text_report(const Design& design, const Assessment& assessment, const RuleSet& rules,
                        const Sources& sources, const TextStyle& style);

} // namespace trivet
