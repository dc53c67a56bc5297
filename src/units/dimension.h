#pragma once

#include <cstdint>

namespace trivet {

// The physical kind of a number: exponents of the SI base units. `point` marks a place on the temperature scale
// (75 °C) as opposed to a difference (2 K); a point can only be compared, shifted by a difference, or subtracted.
struct Dimension {
    std::int8_t length = 0;
    std::int8_t mass = 0;
    std::int8_t time = 0;
    std::int8_t current = 0;
    std::int8_t temperature = 0;
    bool point = false;

    friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
};

constexpr Dimension operator*(Dimension a, Dimension b) {
    const auto sum = [](std::int8_t x, std::int8_t y) { return static_cast<std::int8_t>(x + y); };
    return {sum(a.length, b.length), sum(a.mass, b.mass), sum(a.time, b.time), sum(a.current, b.current),
            sum(a.temperature, b.temperature)};
}

constexpr Dimension inverse(Dimension a) {
    const auto negate = [](std::int8_t x) { return static_cast<std::int8_t>(-x); };
    return {negate(a.length), negate(a.mass), negate(a.time), negate(a.current), negate(a.temperature)};
}

constexpr Dimension operator/(Dimension a, Dimension b) { return a * inverse(b); }

namespace dim {
inline constexpr Dimension number{};
inline constexpr Dimension length{.length = 1};
inline constexpr Dimension area = length * length;
inline constexpr Dimension mass{.mass = 1};
inline constexpr Dimension time{.time = 1};
inline constexpr Dimension frequency = inverse(time);
inline constexpr Dimension speed = length / time;
inline constexpr Dimension current{.current = 1};
inline constexpr Dimension temperature{.temperature = 1, .point = true};
inline constexpr Dimension temperature_difference{.temperature = 1};
inline constexpr Dimension power{.length = 2, .mass = 1, .time = -3};
inline constexpr Dimension energy = power * time;
inline constexpr Dimension voltage = power / current;
inline constexpr Dimension resistance = voltage / current;
inline constexpr Dimension conductance = inverse(resistance);
inline constexpr Dimension resistance_per_length = resistance / length;
inline constexpr Dimension charge = current * time;
inline constexpr Dimension capacitance = charge / voltage;
inline constexpr Dimension inductance = voltage * time / current;
inline constexpr Dimension joule_integral = current * current * time;            // A²s
inline constexpr Dimension withstand_density = joule_integral / (area * area);   // A²s/m⁴: the square of k
inline constexpr Dimension thermal_resistance = temperature_difference / power;  // K/W
inline constexpr Dimension thermal_conductance = power / temperature_difference; // W/K
inline constexpr Dimension heat_capacity = energy / temperature_difference;      // J/K
inline constexpr Dimension per_kelvin = inverse(temperature_difference);         // 1/K, also %/K
inline constexpr Dimension conductivity = thermal_conductance / length;          // W/(m K)
inline constexpr Dimension specific_heat = heat_capacity / mass;                 // J/(kg K)
inline constexpr Dimension specific_energy = energy / mass;                      // J/kg
inline constexpr Dimension density = mass / (area * length);                     // kg/m³
} // namespace dim

} // namespace trivet
