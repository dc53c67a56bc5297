#pragma once

#include "thermal/network.h"

namespace trivet {

// Air with its derivatives by the film temperature, per kelvin.
struct AirWithSlope {
    Air value;
    Air by_film;
};
AirWithSlope air_with_slope(double film_kelvin);

// A heat transfer coefficient in W/(m² K) with its derivatives by surface less air and by their mean.
struct Coefficient {
    double value = 0.0;
    double by_difference = 0.0;
    double by_film = 0.0;
};

// Natural and forced convection together: h³ = natural³ + forced³ (Incropera eq. 9.64, assisting streams).
Coefficient convection(const Surface& surface, double surface_kelvin, double air_kelvin);

} // namespace trivet
