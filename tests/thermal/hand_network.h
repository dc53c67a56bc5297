#pragma once

#include "thermal/transient.h"

#include <cmath>
#include <string>
#include <utility>

namespace trivet::testing {

// A heat network put together by hand; SI units, temperatures in °C.
struct HandNetwork : ThermalNetwork {
    explicit HandNetwork(double room_degrees) { ambient = celsius(room_degrees); }

    std::uint32_t body(double capacity, std::string name = "body") {
        bodies.push_back({std::move(name), {capacity}, {}});
        return static_cast<std::uint32_t>(bodies.size() - 1);
    }
    void melts(std::uint32_t at, double from, double to, double energy) {
        bodies[at].melting = Melting{celsius(from), celsius(to), {energy}};
    }
    void path(std::uint32_t from, std::uint32_t to, double conductance) {
        links.push_back({from, to, Conducts{{conductance}}});
    }
    void faces(std::uint32_t from, std::uint32_t to, double area, double length, Facing facing, double emissivity) {
        links.push_back({from, to, Surface{{area}, {length}, facing, emissivity, {}, {}}});
    }
    HeatSource& heat(std::uint32_t at, double power) {
        HeatSource source;
        source.body = at;
        source.power = {power};
        source.reference = ambient;
        sources.push_back(source);
        return sources.back();
    }
};

inline TwoPoint two_point(std::uint32_t body, double on_below, double off_above, double delay = 0.0, double lag = 0.0) {
    return {{body, {lag}}, celsius(on_below), celsius(off_above), {delay}, false};
}

inline RunSetup run_for(double seconds, double tolerance = 1e-6) {
    RunSetup setup;
    setup.until = {seconds};
    setup.tolerance = tolerance;
    return setup;
}

// Of the energy that was moved: what came in, went out and was stored. A millijoule stands for rounding at rest.
inline double energy_imbalance(const Run& run) {
    const double moved = run.supplied.si + std::abs(run.lost.si) + std::abs(run.stored.si);
    return std::abs(run.supplied.si - run.lost.si - run.stored.si) / (moved + 1e-3);
}

// A heater of 100 K rise at a body with a time constant of 300 s.
inline HandNetwork first_order() {
    HandNetwork network(20.0);
    network.body(300.0);
    network.path(0, room, 1.0);
    network.heat(0, 100.0).control = 0;
    return network;
}

} // namespace trivet::testing
