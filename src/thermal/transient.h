#pragma once

#include "thermal/network.h"

#include <functional>
#include <span>
#include <vector>

namespace trivet {

// Something that feels a body's temperature late: first order, d(felt)/dt = (body - felt)/lag. Lag 0: at once.
struct Feeler {
    std::uint32_t body = room; // `room`: it has come off and feels the air
    Time lag;
};

// Two-point control: switches on when it feels `on_below` or less, off when it feels `off_above` or more, `delay` after
// the crossing (a sampled control acts up to one sampling time late). Equal thresholds need a delay above 0.
struct TwoPoint {
    Feeler feels;
    Temperature on_below;
    Temperature off_above;
    Time delay;
    bool stuck_on = false; // its switch never opens
};

// A thermal cutoff: opens at `opens`; closes again at `closes`, or never.
struct Trip {
    Feeler feels;
    Temperature opens;
    std::optional<Temperature> closes;
};

struct Switching {
    Time at;
    std::uint32_t which = 0; // control or cutoff
    bool is_cutoff = false;
    bool closes = false; // heat comes on
};

struct RunSetup {
    std::vector<TwoPoint> controls; // HeatSource::control indexes
    std::vector<Trip> cutoffs;      // HeatSource::cutoffs index
    std::vector<Temperature> start; // [body]; empty: everything at ambient
    std::vector<bool> start_on;     // [control]; empty: on when it feels less than the middle of its band
    std::vector<Temperature> felt;  // [control, then cutoff] what they feel at the start; empty: their body
    Time until;
    double tolerance = 1e-6; // of every step, for a rise of 10 K
    bool record = false;     // keep temperatures at every step and switching
    Time record_every;       // above 0: at every multiple of it, too
    std::size_t most_switchings = 100000;
    std::function<bool(Time, std::span<const double>)> stop; // [temperature, K]; asked after every step
};

// What happened. Energy balance: supplied + start content = lost + end content, closed to 1e-6 of the energy moved.
struct Run {
    std::vector<Time> times;               // recorded, first and last included
    std::vector<Temperature> temperatures; // [time x bodies]
    std::vector<Switching> switchings;
    std::vector<Temperature> highest; // [body]
    std::vector<Time> highest_at;
    std::vector<Temperature> lowest;       // [body]
    std::vector<Temperature> felt_highest; // [control, then cutoff]
    std::vector<Temperature> felt_lowest;
    std::vector<Temperature> end;               // [body]
    std::vector<Temperature> felt_end;          // [control, then cutoff]
    std::vector<bool> on_end;                   // [control]
    std::vector<std::optional<Time>> first_off; // [control]: when it first switched off, its setpoint band reached
    Time ended;
    Energy supplied;                 // electrical
    std::vector<Energy> supplied_by; // [control] to what it switches
    Energy lost;                     // to the room
    Energy stored;                   // heat content at the end less that at the start
    std::size_t steps = 0;
};

// Integrates the heat contents of all bodies with a dense-output stepper (Dormand-Prince 5, or Rosenbrock 4 where a
// small body makes the network stiff) and locates every switching on the dense output to 1e-9 of the step. Ends early
// when something would switch to and fro without any time between, or after some ten million steps over the bodies.
Run simulate(const ThermalNetwork& network, const RunSetup& setup);

} // namespace trivet
