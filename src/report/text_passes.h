#pragma once

#include "assess/assess.h"
#include "source/file.h"

#include <string>
#include <vector>

namespace trivet {

// `--all`: one line per rule that passes somewhere, with how many subjects it was asked about and the thinnest margin;
// then the rules that apply to nothing in this design.
std::string passes_by_rule(const Assessment& assessment, const RuleSet& rules);

// The values of this design that the library only knows as typical of their kind of part, one line each.
std::vector<std::string> values_to_confirm(const Assessment& assessment, const Sources& sources);

} // namespace trivet
