#pragma once

#include "assess/fault_table.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// A page for a web forge: heading, summary, then one table per class with a row for every fault.
// `only`: these classes; empty: all.
std::string fault_markdown(const FaultTable& table, std::string_view title, const std::vector<FaultClass>& only);

} // namespace trivet
