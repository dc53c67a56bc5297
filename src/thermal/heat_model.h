#pragma once

#include "design/design.h"
#include "thermal/transient.h"

#include <string>
#include <vector>

namespace trivet {

// What the electrical solution says about one part that warms a body.
struct PartHeat {
    PartId part;
    Range<dim::power> power; // lowest and highest while it is on
    PerKelvin coefficient;   // of a heater's resistance; `power` holds at `reference`
    Temperature reference;
    std::optional<Range<dim::temperature>> self_limit;
    bool is_heater = false;
    std::optional<std::uint32_t> control; // index into HeatInputs::controls
    std::vector<std::uint32_t> cutoffs;   // independent ones that interrupt it: index into HeatInputs::cutoffs
    std::vector<std::string> missing;     // why its power is unknown
};

// A [[control]] of the design, or a thermostat that is a heater's only control.
struct HeatControl {
    std::string name;
    std::optional<std::uint32_t> of_design; // index into Design::controls
    std::optional<PartId> thermostat;
    std::optional<PartId> sensor;
    std::optional<BodyId> senses; // where the sensor is
    Range<dim::temperature> setpoint;
    TemperatureDifference band; // whole width, widest
    Time lag;
    Time delay;
    bool proportional = false;
    std::vector<std::string> missing; // why it cannot be followed
};

struct HeatCutoff {
    PartId part;
    std::uint32_t branch = 0;
    std::optional<BodyId> body;
    std::optional<Range<dim::temperature>> trip;
    std::optional<Range<dim::temperature>> reset;
    bool resets_itself = false;
    Time lag;
};

// A temperature that must not be passed at a body, and whose.
struct HeatLimit {
    BodyId body;
    Temperature highest;
    std::string what; // "the limit of pot", "the insulation of W3", "board"
};

struct HeatAssumptions {
    double loss_uncertainty = 0.3; // of convection and radiation computed from an area
    double covered_share = 0.25;   // of a body's loss to the room that is left under a cover
    Time sensor_lag{15.0};         // where a part does not state its response time
    Time cutoff_lag{15.0};
    Time touch_time{60.0}; // where a touchable body does not state how long it is touched
};

struct HeatInputs {
    std::vector<PartHeat> parts;
    std::vector<HeatControl> controls;
    std::vector<HeatCutoff> cutoffs;
    HeatAssumptions assumptions;
};

// A state of the build to reckon with.
struct Situation {
    enum class Kind : std::uint8_t { normal, covered, empty, fan_stopped, sensor_off } kind{};
    std::optional<BodyId> body;
    std::optional<PartId> part;
    std::string text; // "pot covered", "fan stopped", "probe off its place"
};
std::vector<Situation> situations(const Design& design, const HeatInputs& inputs);

// Hot: supply high, heaters low, warm room, poor cooling, little mass. Cold: the opposite. `hot_tight`: hot, with every
// path between two bodies at its better end, which heats the farther body more.
enum class HeatExtreme : std::uint8_t { hot, hot_tight, cold };

// The numbers that a network of this design lacks; empty: it can be built. Capacities only matter in time.
std::vector<std::string> missing_for_steady(const Design& design, const HeatInputs& inputs);
std::vector<std::string> missing_for_time(const Design& design);

// Whether hot and hot_tight differ at all.
bool has_uncertain_inner_paths(const Design& design);

// The design as a network: body numbers are BodyIds, source numbers those of HeatInputs::parts with a body, in order.
// Left-open numbers count as 1 (W/K, J/K): ask missing_for_... first, or let a fit fill them. An emptied body is cut
// from its neighbours and tied to the room, so that numbers stay.
ThermalNetwork heat_network(const Design& design, const HeatInputs& inputs, const Situation& situation,
                            HeatExtreme extreme);

// All controls of the inputs at this extreme, none stuck; `sensor_off` leaves that sensor in the air of the room.
RunSetup control_setup(const HeatInputs& inputs, const Situation& situation, HeatExtreme extreme);

// The body each part heats, by heated_by.
std::optional<BodyId> heated_body(const Design& design, PartId part);

// Everything that has a limit: bodies, parts on or beside them, wires that end or run there.
std::vector<HeatLimit> heat_limits(const Design& design);

} // namespace trivet
