#pragma once

#include "units/parse.h"
#include "units/scanner.h"
#include "units/unit_table.h"

#include <optional>

namespace trivet {

// Reads a unit expression at the scanner: "V", "mm²", "J/(kg K)", "A2s", "1/K", "ohm/km". Leaves the scanner behind it;
// `present` is false when no unit starts here. A product after a stroke ("J/kg K") is refused as ambiguous.
struct UnitReading {
    Unit unit;
    bool present = false;
    char lone_letter =
        '\0'; // 'C' or 'F' when one of its atoms is the coulomb or the farad, which people mean as °C, °F
};

// Empty on success.
std::optional<QuantityProblem> read_unit(Scanner& scanner, Dimension expected, UnitReading& reading);

} // namespace trivet
