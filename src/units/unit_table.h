#pragma once

#include "units/dimension.h"

#include <cstdint>
#include <string_view>

namespace trivet {

// One unit: SI value = (reading + shift) * multiply / divide. Two factors instead of one so that "9 mA" is exactly the
// double nearest to 0.009. `shift` is only used for points on a temperature scale. AWG is not linear: `gauge` is set.
struct Unit {
    double multiply = 1.0;
    double divide = 1.0;
    Dimension dimension;
    double shift = 0.0;
    bool gauge = false;
};

// Symbols are compared as integers: their bytes packed into a word. Longer symbols than eight bytes do not exist.
using SymbolKey = std::uint64_t;
inline constexpr std::size_t longest_symbol = 8;

constexpr SymbolKey symbol_key(std::string_view symbol) {
    SymbolKey key = 0;
    for (const char c : symbol) key = (key << 8U) | static_cast<unsigned char>(c);
    return key;
}

// The unit with this symbol ("mV", "kohm", "°C"), or null. The micro sign must be U+00B5 and ohm U+03A9 here.
const Unit* find_unit(SymbolKey key);

// Area of a round conductor in m²: diameter = 0.127 mm * 92^((36 - gauge) / 39), ASTM B258. 2/0 is gauge -1.
double gauge_area(int gauge);

inline constexpr int thinnest_gauge = 56;
inline constexpr int thickest_gauge = -3; // 4/0

} // namespace trivet
