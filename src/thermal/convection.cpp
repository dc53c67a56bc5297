#include "thermal/convection.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double gravity = 9.80665; // m/s², standard

// Below this difference the coefficient is rounded off, so that the heat flow has a derivative at equal temperatures.
constexpr double least_difference = 0.1;

struct Nusselt {
    double value = 0.0;
    double by_log_rayleigh = 0.0;
    double by_prandtl = 0.0;
};

// [base + strength Ra^(1/6)]². `strength` is 0.387/[1 + (c/Pr)^(9/16)]^(8/27), given as a straight line in Pr that
// keeps to it within 1e-4 for all air.
Nusselt churchill_chu(double rayleigh, double base, double strength, double by_prandtl) {
    const double sixth_root = std::sqrt(std::cbrt(rayleigh));
    const double root = base + strength * sixth_root;
    return {root * root, root * strength * sixth_root / 3.0, 2.0 * root * by_prandtl * sixth_root};
}

// c = 0.492: Churchill and Chu 1975, Incropera eq. 9.26.
Nusselt vertical_plate(double rayleigh, double prandtl) {
    return churchill_chu(rayleigh, 0.825, 0.324076 + 0.03419 * (prandtl - 0.7), 0.03419);
}

// c = 0.559: Churchill and Chu 1975, Incropera eq. 9.34.
Nusselt horizontal_cylinder(double rayleigh, double prandtl) {
    return churchill_chu(rayleigh, 0.60, 0.320922 + 0.03520 * (prandtl - 0.7), 0.03520);
}

// Incropera eq. 9.30 and 9.31 (McAdams 1954). They differ by 6 % where they meet; the step is spread over a factor of
// three in Ra above it, so that the flow stays smooth.
Nusselt hot_side_up(double rayleigh) {
    constexpr double laminar_until = 1e7;
    constexpr double turbulent_from = 3e7;
    const double laminar = rayleigh < turbulent_from ? 0.54 * std::sqrt(std::sqrt(rayleigh)) : 0.0;
    if (rayleigh <= laminar_until) return {laminar, laminar / 4.0, 0.0};
    const double turbulent = 0.15 * std::cbrt(rayleigh);
    if (rayleigh >= turbulent_from) return {turbulent, turbulent / 3.0, 0.0};
    const double t = (rayleigh - laminar_until) / (turbulent_from - laminar_until);
    const double weight = t * t * (3.0 - 2.0 * t);
    const double weight_by_log = 6.0 * t * (1.0 - t) * rayleigh / (turbulent_from - laminar_until);
    return {laminar + weight * (turbulent - laminar),
            laminar / 4.0 + weight * (turbulent / 3.0 - laminar / 4.0) + weight_by_log * (turbulent - laminar), 0.0};
}

// Incropera eq. 9.32 up to the sixth edition, Cengel Table 9-1 (McAdams 1954).
Nusselt hot_side_down(double rayleigh) {
    const double value = 0.27 * std::sqrt(std::sqrt(rayleigh));
    return {value, value / 4.0, 0.0};
}

// A value with its derivative by the temperature difference.
struct Rounded {
    double value = 0.0;
    double slope = 0.0;
};

// |difference|, rounded off at 0.
Rounded magnitude(double difference) {
    const double whole = std::abs(difference);
    if (whole >= least_difference) return {whole, difference < 0.0 ? -1.0 : 1.0};
    return {0.5 * (difference * difference / least_difference + least_difference), difference / least_difference};
}

// 1 where the surface is the warmer one, 0 where it is the colder one.
Rounded warmer(double difference) {
    const double t = std::clamp(difference / least_difference, -1.0, 1.0);
    return {0.5 + 0.25 * t * (3.0 - t * t), 0.75 * (1.0 - t * t) / least_difference};
}

Nusselt mixture(const Nusselt& one, const Nusselt& other, double share) {
    const auto mean = [share](double a, double b) { return share * a + (1.0 - share) * b; };
    return {mean(one.value, other.value), mean(one.by_log_rayleigh, other.by_log_rayleigh), 0.0};
}

// The number and, for a horizontal plate, how it changes while the plate turns from the colder to the warmer side.
struct Turning {
    Nusselt number;
    double by_difference = 0.0;
};

// A cold plate that faces up drives the air like a hot one that faces down.
Turning horizontal_plate(double rayleigh, double difference, bool up) {
    const Rounded warm = warmer(difference);
    const double as_up = up ? warm.value : 1.0 - warm.value;
    if (as_up == 1.0) return {hot_side_up(rayleigh), 0.0};
    if (as_up == 0.0) return {hot_side_down(rayleigh), 0.0};
    const Nusselt above = hot_side_up(rayleigh);
    const Nusselt below = hot_side_down(rayleigh);
    return {mixture(above, below, as_up), (up ? warm.slope : -warm.slope) * (above.value - below.value)};
}

Turning natural_number(Facing facing, double rayleigh, double prandtl, double difference) {
    switch (facing) {
    case Facing::vertical:
        return {vertical_plate(rayleigh, prandtl), 0.0};
    case Facing::round:
        return {horizontal_cylinder(rayleigh, prandtl), 0.0};
    case Facing::up:
    case Facing::down:
        break;
    }
    return horizontal_plate(rayleigh, difference, facing == Facing::up);
}

Coefficient natural(Facing facing, double length, double difference, double film, const AirWithSlope& air) {
    const Rounded apart = magnitude(difference);
    const double viscosity = air.value.kinematic_viscosity;
    const double prandtl = air.value.prandtl;
    const double rayleigh = gravity * apart.value * length * length * length * prandtl / (viscosity * viscosity * film);
    const double log_by_film =
        air.by_film.prandtl / prandtl - 2.0 * air.by_film.kinematic_viscosity / viscosity - 1.0 / film;
    const Turning turning = natural_number(facing, rayleigh, prandtl, difference);
    const Nusselt& number = turning.number;
    const double scale = air.value.conductivity / length;
    return {scale * number.value, scale * (number.by_log_rayleigh * apart.slope / apart.value + turning.by_difference),
            scale * (number.by_log_rayleigh * log_by_film + number.by_prandtl * air.by_film.prandtl) +
                number.value * air.by_film.conductivity / length};
}

// Flat plate along the stream: laminar (Incropera eq. 7.30), or mixed with transition at Re 5e5 (eq. 7.38). Taking the
// larger one moves the transition by less than 0.1 % and leaves no step.
Coefficient forced(double speed, double along, const AirWithSlope& air) {
    const double viscosity = air.value.kinematic_viscosity;
    const double reynolds = speed * along / viscosity;
    double number = 0.664 * std::sqrt(reynolds);
    double by_log_reynolds = 0.5 * number;
    constexpr double transition_near = 4.9e5;
    if (reynolds > transition_near) {
        const double turbulent = 0.037 * std::pow(reynolds, 0.8);
        if (turbulent - 871.0 > number) {
            number = turbulent - 871.0;
            by_log_reynolds = 0.8 * turbulent;
        }
    }
    const double scale = std::cbrt(air.value.prandtl) * air.value.conductivity / along;
    const double relative =
        air.by_film.prandtl / (3.0 * air.value.prandtl) + air.by_film.conductivity / air.value.conductivity;
    return {scale * number, 0.0,
            scale * (number * relative - by_log_reynolds * air.by_film.kinematic_viscosity / viscosity)};
}

Coefficient together(const Coefficient& still, const Coefficient& blown) {
    const double h = std::cbrt(still.value * still.value * still.value + blown.value * blown.value * blown.value);
    const double by_still = (still.value / h) * (still.value / h);
    const double by_blown = (blown.value / h) * (blown.value / h);
    return {h, by_still * still.by_difference, by_still * still.by_film + by_blown * blown.by_film};
}

} // namespace

Coefficient convection(const Surface& surface, double surface_kelvin, double air_kelvin) {
    const double film = 0.5 * (surface_kelvin + air_kelvin);
    const AirWithSlope air = air_with_slope(film);
    const Coefficient still = natural(surface.facing, surface.length.si, surface_kelvin - air_kelvin, film, air);
    if (surface.air_speed.si <= 0.0) return still;
    return together(still, forced(surface.air_speed.si, surface.along_stream.si, air));
}

double natural_convection(Facing facing, Length length, Temperature surface, Temperature air) {
    const double film = 0.5 * (surface.si + air.si);
    return natural(facing, length.si, surface.si - air.si, film, air_with_slope(film)).value;
}

double forced_convection(Speed speed, Length along_stream, Temperature surface, Temperature air) {
    return forced(speed.si, along_stream.si, air_with_slope(0.5 * (surface.si + air.si))).value;
}

} // namespace trivet
