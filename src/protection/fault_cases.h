#pragma once

#include "protection/actuation.h"
#include "protection/off_state.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// How one thing can fail. The list follows the abnormal operation of IEC 60335-1 clause 19 and the component faults of
// 19.11.2 (open or short circuit of any part, one at a time; from memory), and what builders see fail.
enum class FaultMode : std::uint8_t {
    stuck_closed,    // contact welded, cutoff that does not open
    stuck_open,      // contact, cutoff that opened for no reason
    short_circuit,   // transistor, load, diode, resistor, thermistor
    open_circuit,    // all of them, fuse blown, coil, heater, wire
    bridged,         // fuse replaced by wire
    half_shorted,    // heater: half its length
    passes_through,  // converter: output joined to its input
    dead,            // converter or supply gives nothing
    voltage_high,    // supply: 20 % above its highest
    pin_high,        // controller pin stuck
    pin_low,         //
    input_open,      // the line to a switch's input is off
    sensor_open,     // its line is broken
    sensor_shorted,  //
    sensor_detached, // it measures the room
    fan_stopped,     //
    always_on,       // firmware without limit: all that one control drives stays on
    board_runs_wild, // the same of all that one board drives
};
inline constexpr std::array<std::string_view, 18> fault_mode_names{"stuck closed",
                                                                   "stuck open",
                                                                   "shorted",
                                                                   "open",
                                                                   "bridged",
                                                                   "half shorted",
                                                                   "passes its input through",
                                                                   "dead",
                                                                   "20 % too high",
                                                                   "stuck high",
                                                                   "stuck low",
                                                                   "input line open",
                                                                   "line open",
                                                                   "line shorted",
                                                                   "detached",
                                                                   "stopped",
                                                                   "always on",
                                                                   "switches everything to heat"};

// What a fault does to a branch.
enum class Change : std::uint8_t {
    opened,
    closed,  // a switch or cutoff that cannot open
    shorted, // no resistance any more
    scaled,  // its first parameter times `factor`: a source's voltage, a heater's resistance
};
struct BranchChange {
    BranchId branch;
    Change change{};
    double factor = 1.0;
};

struct ForcedDriver {
    DriverId driver;
    bool on = false;
};

// Two points that become one.
struct Join {
    NodeId a;
    NodeId b;
};

// One thing that fails in one way, and what that does to the circuit.
struct FaultCase {
    FaultMode mode{};
    PartId part;                          // not for wires and controls
    std::optional<std::uint16_t> element; // index into Part::elements
    std::optional<WireId> wire;
    std::optional<TerminalRef> terminal; // the pin or input
    std::optional<std::size_t> control;  // index into Design::controls
    bool latent = false;                 // nothing shows it until a second fault happens
    bool assumed = false;                // what the switch or control then does is not stated: the worse is taken
    std::vector<BranchChange> changes;
    std::vector<Join> joins;
    std::vector<ForcedDriver> forced;
};

// Every single fault of a design: parts in their order, each part's elements in theirs, then wires, controls and
// boards. Not in it, because other analyses answer it: loose terminals, wrong polarity, what happens in reset.
std::vector<FaultCase> fault_cases(const Circuit& circuit, const Nets& nets, const Design& design,
                                   const std::vector<Actuation>& actuations, const OffState& off);

std::string describe(const FaultCase& fault, const Design& design); // "heat_switch contact stuck closed"

} // namespace trivet
