#include "units/unit_table.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace trivet {

namespace {

struct UnitFamily {
    std::string_view symbol;
    Dimension dimension;
    double multiply;
    double divide;
    std::string_view prefixes; // SI prefixes people use with it; 'u' also admits the micro sign
    double shift = 0.0;
};

struct Prefix {
    char letter;
    double multiply;
    double divide;
};

constexpr std::array<Prefix, 8> prefixes{{
    {'p', 1, 1e12},
    {'n', 1, 1e9},
    {'u', 1, 1e6},
    {'m', 1, 1e3},
    {'c', 1, 1e2},
    {'k', 1e3, 1},
    {'M', 1e6, 1},
    {'G', 1e9, 1},
}};

// The foot and the inch are exact by definition (0.3048 m, 25.4 mm); °F = 5/9 K with its zero at 459.67 °F.
constexpr UnitFamily families[] = {
    {"V", dim::voltage, 1, 1, "umk"},
    {"A", dim::current, 1, 1, "pnumk"},
    {"W", dim::power, 1, 1, "umkM"},
    {"ohm", dim::resistance, 1, 1, "umkMG"},
    {"\u03a9", dim::resistance, 1, 1, "umkMG"},
    {"S", dim::conductance, 1, 1, "um"},
    {"m", dim::length, 1, 1, "umck"},
    {"in", dim::length, 254, 10000, ""},
    {"inch", dim::length, 254, 10000, ""},
    {"ft", dim::length, 3048, 10000, ""},
    {"g", dim::mass, 1, 1000, "mk"},
    {"s", dim::time, 1, 1, "num"},
    {"min", dim::time, 60, 1, ""},
    {"h", dim::time, 3600, 1, ""},
    {"Hz", dim::frequency, 1, 1, "kMG"},
    {"K", dim::temperature_difference, 1, 1, ""},
    {"\u00b0C", dim::temperature_difference, 1, 1, "", 273.15},
    {"degC", dim::temperature_difference, 1, 1, "", 273.15},
    {"\u2103", dim::temperature_difference, 1, 1, "", 273.15},
    {"\u00b0F", dim::temperature_difference, 5, 9, "", 459.67},
    {"degF", dim::temperature_difference, 5, 9, "", 459.67},
    {"\u2109", dim::temperature_difference, 5, 9, "", 459.67},
    {"J", dim::energy, 1, 1, "mkM"},
    {"Wh", dim::energy, 3600, 1, "mk"},
    {"Ah", dim::charge, 3600, 1, "m"},
    {"C", dim::charge, 1, 1, "um"},
    {"F", dim::capacitance, 1, 1, "pnum"},
    {"H", dim::inductance, 1, 1, "num"},
    {"%", dim::number, 1, 100, ""},
    {"ppm", dim::number, 1, 1e6, ""},
};

struct Entry {
    SymbolKey key = 0;
    Unit unit;
};

constexpr SymbolKey key_of(std::string_view prefix, std::string_view symbol) {
    return (symbol_key(prefix) << (8U * symbol.size())) | symbol_key(symbol);
}

constexpr std::size_t entry_count() {
    std::size_t count = 1; // AWG
    for (const UnitFamily& family : families) {
        count += 1 + family.prefixes.size();
        for (const char c : family.prefixes) count += c == 'u' ? 1U : 0U;
    }
    return count;
}

constexpr auto make_entries() {
    std::array<Entry, entry_count()> entries{};
    std::size_t filled = 0;
    entries[filled++] = {symbol_key("AWG"), {.dimension = dim::area, .gauge = true}};
    for (const UnitFamily& family : families) {
        const Unit base{family.multiply, family.divide, family.dimension, family.shift, false};
        entries[filled++] = {symbol_key(family.symbol), base};
        for (const Prefix& prefix : prefixes) {
            if (family.prefixes.find(prefix.letter) == std::string_view::npos) continue;
            Unit scaled = base;
            // kg is 1000/1000: cancelled, so that a mass in kilograms stays exactly what was written.
            const bool cancels = base.divide > 1.0 && prefix.multiply == base.divide;
            scaled.multiply = cancels ? base.multiply : base.multiply * prefix.multiply;
            scaled.divide = cancels ? 1.0 : base.divide * prefix.divide;
            entries[filled++] = {key_of({&prefix.letter, 1}, family.symbol), scaled};
            if (prefix.letter == 'u') entries[filled++] = {key_of("\u00b5", family.symbol), scaled};
        }
    }
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.key < b.key; });
    return entries;
}

constexpr auto entries = make_entries();

constexpr bool all_different() {
    for (std::size_t i = 1; i < entries.size(); ++i) {
        if (entries[i - 1].key == entries[i].key) return false;
    }
    return entries.front().key != 0;
}
static_assert(all_different(), "two units share a symbol");

} // namespace

const Unit* find_unit(SymbolKey key) {
    const auto at = std::ranges::lower_bound(entries, key, {}, &Entry::key);
    return at != entries.end() && at->key == key ? &at->unit : nullptr;
}

double gauge_area(int gauge) {
    const double diameter = 0.127e-3 * std::pow(92.0, (36.0 - gauge) / 39.0);
    return std::numbers::pi / 4.0 * diameter * diameter;
}

} // namespace trivet
