#pragma once

#include "thermal/fit.h"

#include <cmath>
#include <random>

namespace trivet {

// A plate with a heater under a pot in a room, as in any textbook on lumped capacities. Numbers of `truth` are what a
// fit has to find again.
struct PlateAndPot {
    double plate_capacity = 200.0; // J/K
    double pot_capacity = 950.0;
    double plate_to_pot = 3.0; // W/K
    double pot_to_room = 0.8;
    double plate_to_room = 0.3;
    double power = 60.0; // W
    double air = 293.15; // K
};

inline ThermalNetwork network_of(const PlateAndPot& build) {
    ThermalNetwork network;
    network.ambient = {build.air};
    network.bodies = {{"plate", {build.plate_capacity}, {}}, {"pot", {build.pot_capacity}, {}}};
    network.links = {{0, 1, Conducts{{build.plate_to_pot}}, 1.0},
                     {1, room, Conducts{{build.pot_to_room}}, 1.0},
                     {0, room, Conducts{{build.plate_to_room}}, 1.0}};
    HeatSource heater;
    heater.body = 0;
    heater.power = {build.power};
    network.sources = {heater};
    return network;
}

inline const OpenParameter plate_to_pot{OpenParameter::Kind::conductance, 0, "plate to pot (conductance)", 0.0};
inline const OpenParameter pot_to_room{OpenParameter::Kind::conductance, 1, "pot to ambient (conductance)", 0.0};
inline const OpenParameter plate_capacity{OpenParameter::Kind::capacity, 0, "plate (capacity)", 0.0};
inline const OpenParameter pot_capacity{OpenParameter::Kind::capacity, 1, "pot (capacity)", 0.0};

// Every open number replaced by 1, as a design that leaves it open.
inline ThermalNetwork opened(ThermalNetwork network, const std::vector<OpenParameter>& open) {
    for (const OpenParameter& parameter : open) {
        if (parameter.kind == OpenParameter::Kind::conductance)
            network.links[parameter.index].law = Conducts{{1.0}};
        else
            network.bodies[parameter.index].capacity = {1.0};
    }
    return network;
}

// The log of a perfect thermometer: classical Runge-Kutta with steps of a second, written out for these two bodies.
// `on`: share of the heater until the next row.
inline HeatLog perfect_log(const PlateAndPot& build, const std::vector<double>& on, double interval, double plate,
                           double pot) {
    HeatLog log;
    log.bodies = {0, 1};
    log.on = {on};
    const auto slope = [&build](double share, double a, double b, double& by_a, double& by_b) {
        const double passed = build.plate_to_pot * (a - b);
        by_a = (share * build.power - passed - build.plate_to_room * (a - build.air)) / build.plate_capacity;
        by_b = (passed - build.pot_to_room * (b - build.air)) / build.pot_capacity;
    };
    for (std::size_t row = 0; row < on.size(); ++row) {
        log.times.push_back({static_cast<double>(row) * interval});
        log.temperatures.push_back({plate});
        log.temperatures.push_back({pot});
        log.ambient.push_back({build.air});
        for (int second = 0; second < static_cast<int>(interval); ++second) {
            double a1, b1, a2, b2, a3, b3, a4, b4;
            slope(on[row], plate, pot, a1, b1);
            slope(on[row], plate + 0.5 * a1, pot + 0.5 * b1, a2, b2);
            slope(on[row], plate + 0.5 * a2, pot + 0.5 * b2, a3, b3);
            slope(on[row], plate + a3, pot + b3, a4, b4);
            plate += (a1 + 2.0 * a2 + 2.0 * a3 + a4) / 6.0;
            pot += (b1 + 2.0 * b2 + 2.0 * b3 + b4) / 6.0;
        }
    }
    return log;
}

// Normal noise by the method of Box and Muller (Ann. Math. Stat. 29, 1958): the same with every library.
class Noise {
public:
    explicit Noise(std::uint64_t seed)
        : engine_(seed) {}

    double operator()(double deviation) {
        const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
        return deviation * radius * std::cos(2.0 * 3.14159265358979323846 * uniform());
    }

private:
    double uniform() { return static_cast<double>(engine_() >> 11U) * 0x1.0p-53; }
    std::mt19937_64 engine_;
};

inline HeatLog noisy(HeatLog log, std::uint64_t seed, double deviation) {
    Noise noise(seed);
    for (Temperature& temperature : log.temperatures) temperature.si += noise(deviation);
    return log;
}

} // namespace trivet
