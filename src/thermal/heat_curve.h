#pragma once

#include "thermal/heat_model.h"

#include <optional>
#include <string>
#include <vector>

namespace trivet {

// What to follow through time, starting with everything at the room's temperature.
struct CurveChoice {
    Situation situation; // one of situations()
    HeatExtreme extreme{};
    std::optional<PartId> stuck; // a switch or thermostat that never opens
    bool with_cutoffs = true;
    std::optional<Time> span; // empty: until it has settled and a little longer, three days at most
};

// One body's curve in numbers. A body that the situation takes away has none.
struct CurveBody {
    BodyId body;
    std::string name;
    Temperature start;
    Temperature highest;
    Time highest_at;            // of many alike peaks or a slow approach: when first within 0.1 K of it
    Temperature lowest_settled; // in the last part, where it has settled
    Temperature highest_settled;
    Temperature end;
    std::optional<HeatLimit> limit;   // the lowest there
    std::optional<Time> passes_limit; // when first
};

struct CurveControl {
    std::string name;
    std::string body; // that it senses; empty: its sensor hangs in the air of the room
    Temperature setpoint;
    std::optional<Time> reached; // when that body first has the setpoint
    double duty = 0.0;           // share of time with the heat on: whole cycles at the end, else the whole time
    std::optional<Time> cycle;   // mean of the last ones; empty: fewer than two openings
    bool stuck = false;
    bool feels_room = false; // its sensor has come off
    bool proportional = false;
};

struct CurveCutoff {
    std::string name;
    std::string body;
    Temperature opens; // reckoned with
    Range<dim::temperature> trip;
    std::optional<Time> opened; // first
    std::size_t openings = 0;
    bool closes_again = false;
    bool acts = true;                 // false: left out, or it interrupts nothing that heats
    std::vector<std::string> missing; // why it is not reckoned with
};

// A heater that is not always on: the share of time it is, from every moment to the next.
struct CurveHeater {
    std::string name;
    std::vector<double> on;
};

// Predicted temperatures: `times` is a regular grid from 0 to the end.
struct HeatCurve {
    Situation situation;
    HeatExtreme extreme{};
    Temperature ambient;
    std::string stuck; // the part's name; empty: none
    bool with_cutoffs = true;
    bool inner_paths_vary = false; // hot and hot_tight differ
    bool runaway = false;          // a switch is stuck, or a control does not feel what it heats
    bool still_heats = false;      // at the end some runaway heat is on and no cutoff is open for good
    std::optional<Time> settled;   // from then on every body stays within 0.5 K of what it does at the end
    std::optional<Time> gave_up;   // the solver stopped there: something switched too often
    Time step;
    std::vector<Time> times;
    std::vector<Temperature> temperatures; // [time x bodies]
    std::vector<CurveBody> bodies;
    std::vector<CurveControl> controls;
    std::vector<CurveCutoff> cutoffs;
    std::vector<CurveHeater> heaters;
};

// The controls that a stuck switch makes useless: those that drive this part, or the thermostat itself.
std::vector<std::uint32_t> controls_of_switch(const Design& design, const HeatInputs& inputs, PartId part);

// Follows the bodies. Asks that missing_for_steady and missing_for_time are empty and every control can be followed.
// A cutoff opens at its highest trip temperature in a runaway, at its lowest otherwise: each time the worse end. A
// proportional control is followed as if it held its sensor's body within half a kelvin.
HeatCurve heat_curve(const Design& design, const HeatInputs& inputs, const CurveChoice& choice);

} // namespace trivet
