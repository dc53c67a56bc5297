#pragma once

#include "catalog/element.h"
#include "tables/table.h"

#include <optional>

namespace trivet {

// Maximum resistance per length at 20 °C for area and class: rules/tables/conductor-resistance.toml (IEC 60228).
// Between two rows it falls with the area from the thinner one; above the last row it stays. Thinner than the first
// row: AWG sizes (ASTM B258), 2 % more for strands (NEC chapter 9 table 8). No class: class 5. Empty: no area or none
// that thin.
std::optional<ResistancePerLength> resistance_per_length(const WireElement& wire, const Handbook& handbook);

// R(T) = R20 (1 + 0.00393 (T - 20 °C)), copper (IEC 60228 annex A: 254.5/(234.5 + T) is the same).
Resistance at_temperature(Resistance at_20_celsius, Temperature temperature);

} // namespace trivet
