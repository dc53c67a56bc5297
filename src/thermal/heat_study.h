#pragma once

#include "thermal/cycle.h"
#include "thermal/heat_model.h"

namespace trivet {

// A highest temperature and the situation it belongs to (index into HeatStudy::situations).
struct Hottest {
    std::optional<Temperature> value; // empty: never computed
    std::uint32_t situation = 0;
};

struct BodyHeat {
    Hottest normal;  // the controls do their work
    Hottest stuck;   // every switch stuck on, nothing stops it
    Hottest guarded; // every switch stuck on, the independent cutoffs do their work at their highest trip temperature
};

struct ControlHeat {
    std::optional<Time> time_to_setpoint; // cold extreme; empty: never, when `reaches` is false
    bool reaches = false;
    double duty_cold = 0.0; // average share of time the heat is on, cold extreme
    double duty_hot = 0.0;
    TemperatureDifference overshoot; // of the body it senses, above the setpoint, hot extreme
    TemperatureDifference band_held; // of that body, from trough to peak, once settled
    double operations_per_hour =
        0.0;                      // the most at any extreme between cold and hot; 0: proportional or it never switches
    Temperature cold_temperature; // of the body it senses, on average, cold extreme
    Power mean_power;             // cold extreme, what it takes to hold the setpoint
    std::vector<std::string> missing; // why it was not followed
};

struct CutoffHeat {
    Hottest normal;                          // at its own place
    Hottest stuck;                           // at its own place, nothing stops it
    std::optional<Temperature> highest_safe; // the highest trip temperature that keeps every limit; empty: any does
    std::string closed_by;              // the limit that sets it: "the limit of pot (85 °C), with the pot covered"
    std::uint32_t closed_in = 0;        // situation
    bool can_be_safe = true;            // false: not even tripping at the normal maximum keeps every limit
    std::optional<Time> operating_time; // from the fault until it opens, normal situation, hot extreme; empty: never
    std::optional<Time> cycle;          // self-resetting, stuck on: from one opening to the next
    bool surely_trips = false;          // at the cold extreme its place passes its highest trip temperature, too
    std::vector<std::string> missing;
};

// How hot everything gets: both extremes of every situation, controls at work and stuck on.
struct HeatStudy {
    bool described = false; // the design has bodies
    std::vector<std::string> missing_steady;
    std::vector<std::string> missing_in_time;
    std::vector<Situation> situations;        // the normal one first
    std::vector<BodyHeat> bodies;             // [body]
    std::vector<ControlHeat> controls;        // [HeatInputs::controls]
    std::vector<CutoffHeat> cutoffs;          // [HeatInputs::cutoffs]
    std::vector<std::string> no_steady_state; // situations in which a body has no way to lose its heat
};
HeatStudy study_heat(const Design& design, const HeatInputs& inputs);

} // namespace trivet
