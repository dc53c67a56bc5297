#pragma once

#include "units/range.h"

#include <tl/expected.hpp>

#include <cstddef>
#include <string>
#include <string_view>

namespace trivet {

// Why a quantity could not be read. `offset` counts bytes into the text; `hint` is a way out and may be empty.
struct QuantityProblem {
    std::size_t offset = 0;
    std::string message;
    std::string hint;
};

// Reads "24 V", "9.3..9.7 ohm", "5 V ±2 %", "100 kohm +-1 %", "110 °C +0/-10 K", "-10..35 °C", "18 AWG", "2/0 AWG",
// "25 cm", "0.85..0.92", "80 %", "2.5 %/K", "900 J/(kg K)". The unit must have the expected dimension. For
// dim::temperature_difference, "2 °C" and "2 K" mean the same and "3.6 degF" is 2 K; for dim::temperature, "75 °C",
// "167 degF" and "348.15 K" mean the same point. Refused: no unit where one is due, an unknown unit (nearest named),
// reversed ranges, non-finite values and anything beyond 1e30 in SI units, temperatures below absolute zero, negative
// tolerance, a tolerance in % of a temperature or of a value that is itself in %, a decimal comma, trailing text. Takes
// no memory on success.
tl::expected<AnyRange, QuantityProblem> parse_range(std::string_view text, Dimension expected);

// The same, but the text must state one value, not a range.
tl::expected<AnyQuantity, QuantityProblem> parse_quantity(std::string_view text, Dimension expected);

// "10 A at 30 V", "3 A at 30 V DC", "10 A at 250 V AC": a rating that holds up to a voltage. `alternating` is true only
// for AC; a rating without either word is a DC rating when its voltage is 60 V or less, otherwise refused as ambiguous.
struct CurrentAtVoltage {
    Current current;
    Voltage voltage;
    bool alternating = false;

    friend bool operator==(const CurrentAtVoltage&, const CurrentAtVoltage&) = default;
};
tl::expected<CurrentAtVoltage, QuantityProblem> parse_rating(std::string_view text);

} // namespace trivet
