#pragma once

#include "assess/assess.h"
#include "source/file.h"

#include <string>

namespace trivet {

// What a rule says of each subject of a design it applies to, with the numbers: the example of `trivet explain
// --design`.
std::string worked_example(const Rule& rule, const Assessment& assessment, const Sources& sources);

} // namespace trivet
