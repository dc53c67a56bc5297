#pragma once

#include "catalog/given.h"
#include "catalog/material.h"
#include "units/parse.h"

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace trivet {

// A terminal of the part an element belongs to: index into Part::terminals.
struct TerminalIndex {
    std::uint16_t value = 0;
    auto operator<=>(const TerminalIndex&) const = default;
};

// A terminal that is not stated; never left in a part that was read without error.
inline constexpr TerminalIndex unset_terminal{0xffff};

// Two terminals in the order the part file names them: plus first for everything that has a polarity.
struct Between {
    TerminalIndex first;
    TerminalIndex second;
};

// What a supply does when more is drawn than it can give.
enum class LimitMode : std::uint8_t { unstated, none, constant_current, hiccup, foldback, shut_off };
inline constexpr std::array<std::string_view, 6> limit_mode_names{"unstated", "none",     "constant current",
                                                                  "hiccup",   "foldback", "shut off"};

enum class LoadCategory : std::uint8_t { resistive, electronics, motor, coil, lamp, capacitive };
inline constexpr std::array<std::string_view, 6> load_category_names{"resistive", "electronics", "motor",
                                                                     "coil",      "lamp",        "capacitive"};

enum class CutoffReset : std::uint8_t { one_shot, manual, self };
inline constexpr std::array<std::string_view, 3> cutoff_reset_names{"one-shot", "manual", "self"};

enum class Topology : std::uint8_t { step_down, step_up, linear, isolated };
inline constexpr std::array<std::string_view, 4> topology_names{"step-down", "step-up", "linear", "isolated"};

enum class LoadBehaviour : std::uint8_t { constant_current, constant_power, resistance };
inline constexpr std::array<std::string_view, 3> load_behaviour_names{"constant current", "constant power",
                                                                      "resistance"};

enum class FuseFamily : std::uint8_t { blade, quick, time_lag, ul, resettable };
inline constexpr std::array<std::string_view, 5> fuse_family_names{"blade", "quick", "time-lag", "ul", "resettable"};

enum class ResetState : std::uint8_t { unstated, floating, pulled_up, pulled_down, drives_high, drives_low, pulses };
inline constexpr std::array<std::string_view, 7> reset_state_names{
    "unstated", "floating", "pulled up", "pulled down", "drives high", "drives low", "pulses"};

// A current rating up to a voltage for one kind of load, DC or AC ("10 A at 30 V DC").
struct ContactRating {
    LoadCategory category{};
    CurrentAtVoltage rating;
    Place place;
    Basis basis{};
};

// A supply or battery. Its terminals are plus, minus.
struct SourceElement {
    Between between;
    Perhaps<dim::voltage> voltage;       // open circuit to full load, trimming and charging included
    Perhaps<dim::current> rated_current; // continuous; for a battery its largest continuous discharge current
    Perhaps<dim::current> limit_current; // where its own limiting sets in; unstated for a bare battery
    LimitMode limit_mode = LimitMode::unstated;
    Perhaps<dim::resistance> internal_resistance; // of batteries; regulated supplies: slope, 0 if unstated
    Perhaps<dim::temperature> full_load_up_to;    // ambient up to which the rated current holds
    Perhaps<dim::per_kelvin> derating;            // of the rated current per kelvin above that
    PerhapsFlag isolated;                         // bought, certified, isolated from mains (batteries: true)
    bool is_battery = false;
};

struct FuseElement {
    Between between;
    FuseFamily family{};
    Perhaps<dim::current> rated_current;
    Perhaps<dim::voltage> rated_voltage;     // DC
    Perhaps<dim::current> breaking_capacity; // DC, at the rated voltage
    Perhaps<dim::resistance> resistance;
};

struct CutoffElement {
    Between between;
    CutoffReset reset{};
    Perhaps<dim::temperature> trip;
    Perhaps<dim::temperature> reset_temperature;   // self: closes again there; manual: can be reset below
    Perhaps<dim::temperature> holding_temperature; // of one-shot links: may be held there without ageing open
    Perhaps<dim::time> response_time;              // first-order lag behind what it is mounted on
    std::vector<ContactRating> rated;
    Perhaps<dim::resistance> resistance;
    Perhaps<dim::number> endurance; // operations
};

// A relay contact (driven) or a hand switch (driven_by empty and by_hand).
struct ContactElement {
    Between between;
    bool rests_closed = false;
    bool by_hand = false;
    std::string driven_by; // name of an input terminal or of a coil element of the same part
    std::vector<ContactRating> rated;
    Perhaps<dim::resistance> resistance;
    Perhaps<dim::number> endurance; // operations at the rated load
};

// A semiconductor switch. `between` in the direction in which it can block: plus side first (its body diode, if any,
// conducts from second to first).
struct TransistorElement {
    Between between;
    std::string driven_by;                  // input terminal
    TerminalIndex reference;                // what the drive voltage is measured against (source, GND)
    Perhaps<dim::resistance> on_resistance; // cold to hot
    Perhaps<dim::voltage> drive_needed;     // drive voltage at which on_resistance is stated
    Perhaps<dim::voltage> threshold;        // where it begins to conduct
    Perhaps<dim::voltage> drive_limit;      // absolute maximum
    Perhaps<dim::current> rated_current;
    Perhaps<dim::voltage> rated_voltage;
    Perhaps<dim::thermal_resistance> thermal_resistance; // junction to ambient as mounted
    Perhaps<dim::temperature> junction_limit;
    Perhaps<dim::voltage> on_voltage; // fixed drop of a solid-state relay, instead of a resistance
    bool body_diode = true;
    bool turns_off_on_dc = true; // false: a device that only turns off when the current passes zero (AC type)
};

// What switches a contact or transistor of the same part: a logic input.
struct InputElement {
    TerminalIndex terminal;
    TerminalIndex reference;
    bool active_high = true;
    Perhaps<dim::voltage> on_voltage;   // level that surely switches on (relative to reference)
    Perhaps<dim::voltage> off_voltage;  // level that surely leaves off
    Perhaps<dim::current> current;      // drawn from the driving pin when on
    Perhaps<dim::resistance> pull;      // to its resting level, on the module
    std::string when_open = "unstated"; // "off", "on", "unstated": what the switch does when nothing drives the input
};

struct CoilElement {
    Between between;
    Perhaps<dim::resistance> resistance;
    Perhaps<dim::current> current; // instead of resistance, for modules
    Perhaps<dim::voltage> voltage; // range in which it works reliably
    PerhapsFlag suppressed;        // freewheel diode or other clamp fitted across it
};

struct ConverterElement {
    Between input;
    Between output;
    Topology topology{};
    Perhaps<dim::voltage> input_voltage;  // working range
    Perhaps<dim::voltage> input_limit;    // absolute maximum
    Perhaps<dim::voltage> output_voltage; // where it is set; with tolerance
    bool adjustable = false;              // then the design must say where it is set ("output")
    Perhaps<dim::voltage> output_range;   // where an adjustable one can be set; output_voltage lies inside
    Perhaps<dim::number> efficiency;
    Perhaps<dim::current> quiescent_current;
    Perhaps<dim::voltage> dropout; // smallest input above output
    Perhaps<dim::current> rated_output_current;
    Perhaps<dim::current> limit_current;
    Perhaps<dim::power> dissipation_limit; // as mounted
};

struct HeaterElement {
    Between between;
    Perhaps<dim::resistance> resistance; // at 20 °C, tolerance included
    Perhaps<dim::per_kelvin> temperature_coefficient;
    Perhaps<dim::temperature> working_temperature; // element temperature in use, for the hot resistance
    Perhaps<dim::voltage> voltage;                 // rated
    Perhaps<dim::power> power;                     // rated; resistance follows from it when not stated
    Perhaps<dim::number> cold_factor;              // start current over rated current (PTC types)
    Perhaps<dim::temperature> self_limit;          // PTC types: at this element temperature they take nearly nothing
};

struct LoadElement {
    Between between;
    LoadCategory category{};
    LoadBehaviour behaviour{};
    Perhaps<dim::current> current;
    Perhaps<dim::power> power;
    Perhaps<dim::resistance> resistance;
    Perhaps<dim::voltage> voltage;       // working range
    Perhaps<dim::voltage> voltage_limit; // absolute maximum
    Perhaps<dim::number> start_factor;   // start current over running current
    PerhapsFlag suppressed;              // for motors and coils: clamp fitted or electronics inside
    bool either_way = false;             // polarity does not matter
};

// A connection inside a part; with a rated current when it is a connector contact or a track.
struct ConductorElement {
    Between between;
    Perhaps<dim::resistance> resistance; // unstated: none
    Perhaps<dim::current> rated_current;
};

struct DiodeElement {
    Between between; // anode, cathode
    Perhaps<dim::voltage> forward_voltage;
    Perhaps<dim::current> rated_current;
    Perhaps<dim::voltage> rated_voltage; // reverse
};

struct ResistorElement {
    Between between;
    Perhaps<dim::resistance> resistance;
    Perhaps<dim::power> rated_power;
};

enum class SensorCurve : std::uint8_t { ntc, platinum, ptc };
inline constexpr std::array<std::string_view, 3> sensor_curve_names{"ntc", "platinum", "ptc"};

struct ThermistorElement {
    Between between;
    SensorCurve curve{};
    Perhaps<dim::resistance> resistance; // at the reference temperature (25 °C for NTC, 0 °C for platinum)
    Perhaps<dim::temperature> reference;
    Perhaps<dim::temperature_difference> beta; // NTC: B value in kelvin
    Perhaps<dim::temperature> range;           // working range
    Perhaps<dim::time> response_time;          // first-order lag behind what it senses
};

// What a pin can be used for, and what a design's firmware may configure it as.
inline constexpr std::array<std::string_view, 5> pin_mode_names{"digital-in", "digital-out", "adc", "bus", "pwm"};

// A controller pin. What it can do and what it does in reset.
struct PinElement {
    TerminalIndex terminal;
    TerminalIndex ground;
    TerminalIndex supply;
    std::vector<std::string> modes;       // words of pin_mode_names
    Perhaps<dim::current> output_current; // per pin, source or sink
    Perhaps<dim::voltage> output_high;
    Perhaps<dim::voltage> output_low;
    Perhaps<dim::voltage> input_limit; // absolute maximum, relative to ground
    ResetState in_reset = ResetState::unstated;
    Perhaps<dim::resistance> reset_pull;
};

// A signal a sensor gives: which terminal carries it against which ground terminal.
struct SignalElement {
    TerminalIndex terminal;
    TerminalIndex ground;
    std::string levels; // "analogue", "push-pull", "open-drain"; empty: not stated
    Perhaps<dim::voltage> high;
    Perhaps<dim::time> response_time; // of a temperature sensor: first-order lag behind what it senses
};

inline constexpr std::array<std::string_view, 5> insulation_names{"pvc", "xlpe", "silicone", "ptfe", "rubber"};
// IEC 60228: 1 solid, 2 stranded, 5 flexible, 6 extra flexible.
inline constexpr std::array<std::string_view, 4> conductor_class_names{"class 1", "class 2", "class 5", "class 6"};

// A kind of wire sold by the metre; has no terminals.
struct WireElement {
    Perhaps<dim::area> area;
    std::string conductor_class;                // word of conductor_class_names
    std::string insulation;                     // word of insulation_names; empty: not stated
    Perhaps<dim::temperature> insulation_class; // highest continuous conductor temperature
};

// A capacitor. At rest no current flows through it, so the solver has no branch for it.
struct CapacitorElement {
    Between between; // plus first where polarity matters
    Perhaps<dim::capacitance> capacitance;
    Perhaps<dim::voltage> rated_voltage; // DC
};

using ElementBody = std::variant<SourceElement, FuseElement, CutoffElement, ContactElement, TransistorElement,
                                 InputElement, CoilElement, ConverterElement, HeaterElement, LoadElement,
                                 ConductorElement, DiodeElement, ResistorElement, ThermistorElement, PinElement,
                                 SignalElement, WireElement, CapacitorElement, MaterialElement>;
// Spelled in part files as kind = "...", in the order of ElementBody.
inline constexpr std::array<std::string_view, 19> element_kind_names{
    "source",    "fuse",  "cutoff",   "contact",    "transistor", "input",  "coil", "converter", "heater",  "load",
    "conductor", "diode", "resistor", "thermistor", "pin",        "signal", "wire", "capacitor", "material"};
static_assert(element_kind_names.size() == std::variant_size_v<ElementBody>);

struct Element {
    std::string name; // unique in its part: given; or kind and count ("contact", "contact-2"); pins: "pin-IO4"
    ElementBody body;
    Place place;
};

} // namespace trivet
