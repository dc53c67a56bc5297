#pragma once

#include "units/range.h"

#include <string>
#include <string_view>

namespace trivet {

// Human text with three significant digits and a fitting prefix: "2.40 A", "95.0 mV", "1.00 mm²", "75.0 °C", "2.00 K",
// "13200 A²s", "0.80", "0.804", counts whole ("3"). A dimension without a name of its own is shown in SI base units.
// What is printed can be read back by parse_quantity. Rounding noise of a calculation (1e-17 A) is shown as 0. Never
// locale dependent.
std::string to_text(AnyQuantity quantity);
std::string to_text(AnyRange range); // "9.30..9.70 Ω"; one value when both ends print the same

template <Dimension D> std::string to_text(Quantity<D> q) { return to_text(any(q)); }
template <Dimension D> std::string to_text(Range<D> r) { return to_text(any(r)); }

// What a dimension is called in messages ("a voltage"), with an example of how to write it ("24 V").
std::string_view dimension_name(Dimension dimension);
std::string_view dimension_example(Dimension dimension);

// The dimension called "voltage", "area", "temperature difference", "number", ... in rule tables and fact schemas.
// Empty optional-like result is signalled by `found == false`.
struct DimensionLookup {
    bool found = false;
    Dimension dimension;
};
DimensionLookup dimension_called(std::string_view name);

} // namespace trivet
