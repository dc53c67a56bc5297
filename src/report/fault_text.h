#pragma once

#include "assess/fault_table.h"
#include "report/curve_style.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet {

struct FaultStyle {
    bool colour = false;
    bool everything = false;           // a line for every fault
    std::size_t width = 100;           // 60 to 120 columns
    std::vector<FaultClass> only = {}; // empty: all
    bool shows(FaultClass outcome) const;
};

// The answer of `trivet faults`: how many of each, what heats without any fault, then the faults grouped by what they
// lead to, worst first. Faults with the same consequence are gathered unless `everything` is asked for.
std::string fault_text(const FaultTable& table, std::string_view title, const FaultStyle& style);

} // namespace trivet
