#pragma once

#include "assess/fault_table.h"
#include "source/file.h"

#include <string>
#include <vector>

namespace trivet {

// A header row, then one row per fault, worst first; what heats without any fault first of all. Lists within a cell are
// parted by spaces. Temperatures in degrees Celsius to a tenth, times in whole seconds; an empty cell: it does not
// apply. `only`: rows of these classes; empty: all.
std::string fault_csv(const FaultTable& table, const Sources& sources, const std::vector<FaultClass>& only);

} // namespace trivet
