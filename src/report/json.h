#pragma once

#include "assess/assess.h"
#include "source/file.h"

#include <string>

namespace trivet {

// One JSON object per design (format described in docs/json.md): verdict, counts, findings with evidence, assumptions,
// policy changes, what was solved. Numbers are in SI units beside their text. Ends with a newline.
std::string json_report(const Design& design, const Assessment& assessment, const Sources& sources);

// The same shape for a design that could not be read.
std::string json_errors(const Errors& errors, const Sources& sources, const std::string& file);

} // namespace trivet
