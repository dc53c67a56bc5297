#include "thermal/convection.h"

#include <algorithm>
#include <array>

namespace trivet {

namespace {

// Incropera, DeWitt, Bergman, Lavine, Fundamentals of Heat and Mass Transfer, Table A.4, air at atmospheric pressure.
// 200 K and 750 K only give the slopes at the ends.
constexpr double first_kelvin = 250.0;
constexpr double last_kelvin = 700.0;
constexpr double row_step = 50.0;
constexpr std::array<Air, 12> table{{{18.1e-3, 7.590e-6, 0.737},
                                     {22.3e-3, 11.44e-6, 0.720},
                                     {26.3e-3, 15.89e-6, 0.707},
                                     {30.0e-3, 20.92e-6, 0.700},
                                     {33.8e-3, 26.41e-6, 0.690},
                                     {37.3e-3, 32.39e-6, 0.686},
                                     {40.7e-3, 38.79e-6, 0.684},
                                     {43.9e-3, 45.57e-6, 0.683},
                                     {46.9e-3, 52.69e-6, 0.685},
                                     {49.7e-3, 60.21e-6, 0.690},
                                     {52.4e-3, 68.10e-6, 0.695},
                                     {54.9e-3, 76.37e-6, 0.702}}};

using Weights = std::array<double, 4>;

Air weighted(std::size_t row, const Weights& weights) {
    Air sum;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        sum.conductivity += weights[i] * table[row + i].conductivity;
        sum.kinematic_viscosity += weights[i] * table[row + i].kinematic_viscosity;
        sum.prandtl += weights[i] * table[row + i].prandtl;
    }
    return sum;
}

} // namespace

// Cubic through the rows with central slopes (Catmull and Rom 1974): smooth first derivatives keep Newton's method and
// the integrator fast.
AirWithSlope air_with_slope(double film_kelvin) {
    const double within = std::clamp(film_kelvin, first_kelvin, last_kelvin);
    const double position = (within - first_kelvin) / row_step;
    const std::size_t row = std::min(static_cast<std::size_t>(position), table.size() - 4);
    const double t = position - static_cast<double>(row);
    const Weights weights{0.5 * t * (-1.0 + t * (2.0 - t)), 1.0 + 0.5 * t * t * (3.0 * t - 5.0),
                          0.5 * t * (1.0 + t * (4.0 - 3.0 * t)), 0.5 * t * t * (t - 1.0)};
    AirWithSlope air{weighted(row, weights), {}};
    if (film_kelvin != within) return air;
    constexpr double half = 0.5 / row_step;
    const Weights slopes{half * (-1.0 + t * (4.0 - 3.0 * t)), half * t * (9.0 * t - 10.0),
                         half * (1.0 + t * (8.0 - 9.0 * t)), half * t * (3.0 * t - 2.0)};
    air.by_film = weighted(row, slopes);
    return air;
}

Air air_at(Temperature film) { return air_with_slope(film.si).value; }

} // namespace trivet
