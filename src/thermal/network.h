#pragma once

#include "units/quantity.h"

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace trivet {

// Bodies are numbered from 0; this number stands for the air of the room.
inline constexpr std::uint32_t room = std::numeric_limits<std::uint32_t>::max();

// Heat taken up while a material melts, spread evenly from the first drop to all liquid.
struct Melting {
    Temperature from;
    Temperature to; // above `from`
    Energy energy;
};

// A lump of one temperature.
struct ThermalBody {
    std::string name;
    HeatCapacity capacity; // above 0; melting heat not included
    std::optional<Melting> melting;
};

// Where the warmer side of a surface looks. `round`: a horizontal cylinder.
enum class Facing : std::uint8_t { up, down, vertical, round };

struct Conducts {
    ThermalConductance conductance;
};

// A surface that loses heat to air (or to the other body) by natural convection and radiation, and by a fan's air
// stream along it. Correlations and their ranges: docs/methods/heat.md. `length`: what the correlation asks for (height
// of a vertical surface, area over perimeter of a horizontal one, diameter of a cylinder).
struct Surface {
    Area area;
    Length length;
    Facing facing{};
    double emissivity = 0.0;
    Speed air_speed;     // of the fan's stream when it runs; 0: still air
    Length along_stream; // how far the stream runs along the surface
};

// Between two bodies, or a body and the room (`to` only).
struct HeatLink {
    std::uint32_t from = 0;
    std::uint32_t to = room;
    std::variant<Conducts, Surface> law;
    double share = 1.0; // of what the law gives: uncertainty of correlations, covers
};

// Electrical power that becomes heat in a body. power(T) = power / (1 + coefficient (T - reference)): a heater at a
// fixed voltage whose resistance follows its own temperature. One that limits itself (PTC ceramic) falls off to nothing
// over the last self_limit_span below its limit.
struct HeatSource {
    std::uint32_t body = 0;
    Power power;
    PerKelvin coefficient;
    Temperature reference;
    std::optional<std::uint32_t> control; // switched by this control; none: always on
    std::vector<std::uint32_t> cutoffs;   // opened by any of these
    std::optional<Temperature> self_limit = {};
};

inline constexpr TemperatureDifference self_limit_span{40.0};

struct ThermalNetwork {
    std::vector<ThermalBody> bodies;
    std::vector<HeatLink> links;
    std::vector<HeatSource> sources;
    Temperature ambient;
};

// Heat that flows from `from` to `to`, and its derivatives by both temperatures (W/K; the second is negative).
struct Flow {
    Power power;
    ThermalConductance by_from;
    ThermalConductance by_to;
};
Flow heat_flow(const HeatLink& link, Temperature from, Temperature to);

// Power of a source at its body's temperature, switched on; derivative in W/K. Never negative: a coefficient that
// would drive the resistance below a tenth of its reference value counts as a tenth.
struct SourcePower {
    Power power;
    ThermalConductance by_temperature;
};
SourcePower source_power(const HeatSource& source, Temperature body);

// Heat content of a body above 0 °C and back: monotone and piecewise linear.
Energy heat_content(const ThermalBody& body, Temperature temperature);
Temperature temperature_at(const ThermalBody& body, Energy content);

// Coefficients of a plain surface in W/(m² K), for tests and docs. `surface` and `air` may be either way round.
double natural_convection(Facing facing, Length length, Temperature surface, Temperature air);
double forced_convection(Speed speed, Length along_stream, Temperature surface, Temperature air);

// Dry air at 1 atm, interpolated from published property tables over 250 K to 700 K; outside: the nearest end.
struct Air {
    double conductivity = 0.0;        // W/(m K)
    double kinematic_viscosity = 0.0; // m²/s
    double prandtl = 0.0;
};
Air air_at(Temperature film);

} // namespace trivet
