#include "units/format.h"

#include "units/dimension_names.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace trivet {

namespace {

// One way to write a dimension: used from `from` (SI) upwards, counting in `one` (SI).
struct Scale {
    double from;
    double one;
    std::string_view unit;
};

constexpr Scale volts[] = {{0, 1e-6, "µV"}, {1e-3, 1e-3, "mV"}, {1, 1, "V"}, {1e3, 1e3, "kV"}};
constexpr Scale amperes[] = {{0, 1e-9, "nA"}, {1e-6, 1e-6, "µA"}, {1e-3, 1e-3, "mA"}, {1, 1, "A"}, {1e3, 1e3, "kA"}};
constexpr Scale watts[] = {{0, 1e-6, "µW"}, {1e-3, 1e-3, "mW"}, {1, 1, "W"}, {1e3, 1e3, "kW"}, {1e6, 1e6, "MW"}};
constexpr Scale ohms[] = {{0, 1e-6, "µΩ"}, {1e-3, 1e-3, "mΩ"}, {1, 1, "Ω"}, {1e3, 1e3, "kΩ"}, {1e6, 1e6, "MΩ"}};
constexpr Scale siemens[] = {{0, 1e-6, "µS"}, {1e-3, 1e-3, "mS"}, {1, 1, "S"}};
constexpr Scale farads[] = {{0, 1e-12, "pF"}, {1e-9, 1e-9, "nF"}, {1e-6, 1e-6, "µF"}, {1e-3, 1e-3, "mF"}, {1, 1, "F"}};
constexpr Scale henries[] = {{0, 1e-9, "nH"}, {1e-6, 1e-6, "µH"}, {1e-3, 1e-3, "mH"}, {1, 1, "H"}};
constexpr Scale joules[] = {{0, 1e-3, "mJ"}, {1, 1, "J"}, {1e3, 1e3, "kJ"}, {1e6, 1e6, "MJ"}};
constexpr Scale hertz[] = {{0, 1, "Hz"}, {1e3, 1e3, "kHz"}, {1e6, 1e6, "MHz"}};
constexpr Scale metres[] = {{0, 1e-3, "mm"}, {1, 1, "m"}};
constexpr Scale square_metres[] = {{0, 1e-6, "mm²"}, {100e-6, 1e-4, "cm²"}, {1, 1, "m²"}};
constexpr Scale kilograms[] = {{0, 1e-3, "g"}, {1, 1, "kg"}};
constexpr Scale seconds[] = {{0, 1e-6, "µs"}, {1e-3, 1e-3, "ms"}, {1, 1, "s"}, {90, 60, "min"}, {5400, 3600, "h"}};
constexpr Scale metres_per_second[] = {{0, 1, "m/s"}};
constexpr Scale coulombs[] = {{0, 3.6, "mAh"}, {3600, 3600, "Ah"}};
constexpr Scale ohms_per_metre[] = {{0, 1e-3, "Ω/km"}, {1, 1, "Ω/m"}};
constexpr Scale per_kelvins[] = {{0, 1e-6, "ppm/K"}, {1e-3, 1e-2, "%/K"}};
constexpr Scale kelvins[] = {{0, 1, "K"}};
constexpr Scale joule_integrals[] = {{0, 1, "A²s"}};
constexpr Scale withstand_densities[] = {{0, 1e12, "A²s/mm⁴"}};
constexpr Scale kelvins_per_watt[] = {{0, 1, "K/W"}};
constexpr Scale watts_per_kelvin[] = {{0, 1, "W/K"}};
constexpr Scale joules_per_kelvin[] = {{0, 1, "J/K"}};
constexpr Scale conductivities[] = {{0, 1, "W/(m K)"}};
constexpr Scale specific_heats[] = {{0, 1, "J/(kg K)"}};
constexpr Scale specific_energies[] = {{0, 1, "J/kg"}, {1e3, 1e3, "kJ/kg"}};
constexpr Scale densities[] = {{0, 1, "kg/m³"}};

struct Style {
    Dimension dimension;
    std::span<const Scale> scales;
};

constexpr Style styles[] = {
    {dim::voltage, volts},
    {dim::current, amperes},
    {dim::power, watts},
    {dim::resistance, ohms},
    {dim::conductance, siemens},
    {dim::capacitance, farads},
    {dim::inductance, henries},
    {dim::energy, joules},
    {dim::frequency, hertz},
    {dim::length, metres},
    {dim::area, square_metres},
    {dim::mass, kilograms},
    {dim::time, seconds},
    {dim::speed, metres_per_second},
    {dim::charge, coulombs},
    {dim::resistance_per_length, ohms_per_metre},
    {dim::per_kelvin, per_kelvins},
    {dim::temperature_difference, kelvins},
    {dim::joule_integral, joule_integrals},
    {dim::withstand_density, withstand_densities},
    {dim::thermal_resistance, kelvins_per_watt},
    {dim::thermal_conductance, watts_per_kelvin},
    {dim::heat_capacity, joules_per_kelvin},
    {dim::conductivity, conductivities},
    {dim::specific_heat, specific_heats},
    {dim::specific_energy, specific_energies},
    {dim::density, densities},
};

// Decimal exponent of x after rounding to three significant digits: 999.6 counts as 1000.
int rounded_exponent(double x) {
    const int exponent = static_cast<int>(std::floor(std::log10(x)));
    return std::round(x / std::pow(10.0, exponent - 2)) >= 1000.0 ? exponent + 1 : exponent;
}

std::string three_digits(double x) {
    const double size = std::abs(x);
    if (size == 0.0 || !std::isfinite(x)) return fmt::format("{:.0f}", x == 0.0 ? 0.0 : x);
    const int exponent = rounded_exponent(size);
    if (exponent < -4 || exponent > 8) return fmt::format("{:.2e}", x);
    if (exponent >= 3) {
        const double step = std::pow(10.0, exponent - 2);
        return fmt::format("{:.0f}", std::round(x / step) * step);
    }
    return fmt::format("{:.{}f}", x, 2 - exponent);
}

// Counts are whole and stay whole (3, 100000); a share ends where its third digit is nothing (0.80, but 0.804).
std::string plain_number(double x) {
    constexpr double largest_whole = 1e9;
    if (x == std::round(x) && std::abs(x) <= largest_whole) return fmt::format("{:.0f}", x == 0.0 ? 0.0 : x);
    std::string text = three_digits(x);
    if (std::abs(x) < 1.0 && std::abs(x) >= 0.1 && text.ends_with('0')) text.pop_back();
    return text;
}

std::string degrees_celsius(double kelvin) {
    const double tenths = std::round((kelvin - zero_celsius_in_kelvin) * 10.0);
    return fmt::format("{:.1f}", tenths == 0.0 ? 0.0 : tenths / 10.0);
}

// "kg m² s⁻³": what to_text shows for a dimension without a name of its own, and parse_range reads.
std::string base_units(Dimension dimension) {
    constexpr std::array<std::string_view, 10> raised{"⁰", "", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
    struct Base {
        int exponent;
        std::string_view unit;
    };
    const Base bases[] = {{dimension.mass, "kg"},
                          {dimension.length, "m"},
                          {dimension.time, "s"},
                          {dimension.current, "A"},
                          {dimension.temperature, "K"}};
    std::string text;
    for (const Base& base : bases) {
        if (base.exponent == 0) continue;
        const auto size = static_cast<std::size_t>(std::min(std::abs(base.exponent), 9));
        text += text.empty() ? "" : " ";
        text += base.unit;
        if (base.exponent < 0) text += size == 1 ? "⁻¹" : "⁻";
        text += raised[size];
    }
    return text;
}

// Below this a value is rounding noise of a calculation and shown as 0.
double nothing_below(std::span<const Scale> scales) {
    return scales.front().one < 1.0 ? 0.5e-3 * scales.front().one : 1e-9;
}

const Scale& scale_for(std::span<const Scale> scales, double size) {
    if (!std::isfinite(size) || size < nothing_below(scales)) {
        const auto plain = std::ranges::find(scales, 1.0, &Scale::one);
        return plain != scales.end() ? *plain : scales.front();
    }
    const double step = std::pow(10.0, rounded_exponent(size) - 2);
    const double rounded = std::round(size / step) * step;
    const Scale* chosen = &scales.front();
    for (const Scale& scale : scales) {
        if (rounded >= scale.from * (1.0 - 1e-9)) chosen = &scale;
    }
    return *chosen;
}

struct Pieces {
    std::string lo;
    std::string hi;
    std::string unit; // with the space before it
};

Pieces pieces(AnyRange range) {
    const double size = std::max(std::abs(range.lo), std::abs(range.hi));
    if (range.dimension.point && range.dimension * dim::number == dim::temperature_difference) {
        return {degrees_celsius(range.lo), degrees_celsius(range.hi), " °C"};
    }
    if (range.dimension == dim::number) return {plain_number(range.lo), plain_number(range.hi), ""};
    const auto style = std::ranges::find(styles, range.dimension, &Style::dimension);
    if (style == std::end(styles)) {
        return {three_digits(range.lo), three_digits(range.hi), " " + base_units(range.dimension)};
    }
    const Scale& scale = scale_for(style->scales, size);
    const bool nothing = size < nothing_below(style->scales);
    const auto in_scale = [&](double x) { return three_digits(nothing ? 0.0 : x / scale.one); };
    return {in_scale(range.lo), in_scale(range.hi), fmt::format(" {}", scale.unit)};
}

} // namespace

std::string to_text(AnyQuantity quantity) {
    const Pieces text = pieces({quantity.si, quantity.si, quantity.dimension});
    return text.hi + text.unit;
}

std::string to_text(AnyRange range) {
    const Pieces text = pieces(range);
    return text.lo == text.hi ? text.hi + text.unit : text.lo + ".." + text.hi + text.unit;
}

} // namespace trivet
