#pragma once

#include "assess/fault_table.h"
#include "source/file.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// One object (docs/reading-faults.md): counts, what heats without any fault, one member of `faults` per fault, worst
// first, with its sentence. Temperatures in degrees Celsius, times in seconds, both in the names of the members.
// `only`: faults of these classes; empty: all. Ends with a newline.
std::string fault_json(const FaultTable& table, std::string_view title, const Sources& sources,
                       const std::vector<FaultClass>& only);

} // namespace trivet
