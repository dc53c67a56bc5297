#pragma once

#include "design/design.h"
#include "units/range.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace trivet {

struct NodeId {
    std::uint32_t value = 0;
    auto operator<=>(const NodeId&) const = default;
};
struct BranchId {
    std::uint32_t value = 0;
    auto operator<=>(const BranchId&) const = default;
};
struct DriverId {
    std::uint32_t value = 0;
    auto operator<=>(const DriverId&) const = default;
};
struct IslandId {
    std::uint32_t value = 0;
    auto operator<=>(const IslandId&) const = default;
};

// What a branch is electrically. Pins, inputs and signals carry no power current and are not branches.
enum class BranchKind : std::uint8_t {
    source,
    fuse,
    cutoff,
    contact,
    transistor,
    coil,
    converter,
    heater,
    load,
    conductor,
    diode,
    resistor,
    thermistor,
    wire
};

// An uncertain number of a branch: everything the operating point depends on is one of these.
struct Parameter {
    double lo = 0.0; // SI
    double hi = 0.0;
    bool stated = true; // false: a stand-in was used because the design and library are silent; facts on it are unknown
};

// A two-terminal element of a part, or a wire. Current counts positive from `from` to `to` through the element
// (for a source: delivered current leaves `from`, its plus terminal).
// Parameters by kind:  source: voltage, internal resistance | fuse cutoff contact coil conductor resistor thermistor
// wire: resistance | transistor: on resistance, on voltage | converter: output voltage, efficiency, quiescent current |
// heater: resistance running (cold to hot) | load: current, power or resistance by its behaviour | diode: forward
// voltage.
struct Branch {
    BranchKind kind{};
    NodeId from;
    NodeId to;
    NodeId output_from; // converters: their output pair
    NodeId output_to;
    PartId part;                    // not for wires
    std::uint16_t element = 0;      // index into Part::elements
    WireId wire;                    // wires only
    std::optional<DriverId> driver; // contacts and transistors
    bool rests_closed = false;
    std::uint32_t first_parameter = 0;
    std::uint8_t parameters = 0;
    double start_factor = 1.0;    // of heaters and loads: start current over running current
    LoadBehaviour behaviour{};    // loads
    Topology topology{};          // converters
    double working_voltage = 0.0; // V. Loads: middle of the stated voltage; converters: lowest input; 0: not stated
    double dropout = 0.0;         // V, converters
    double rated_current = 1.0;   // A, diodes: where the forward voltage holds
};

// What the build can decide to switch: all contacts and transistors with one drive are one driver.
struct Driver {
    PartId part;
    std::string name;      // "heat_switch", or "heat_switch.IN2" when a part has several
    std::string driven_by; // input terminal or coil name; empty for a hand switch
    bool by_hand = false;
};

struct Circuit {
    std::uint32_t node_count = 0;
    std::vector<Branch> branches;
    std::vector<Parameter> parameters;
    std::vector<std::string> parameter_names; // "supply voltage", "plate resistance": for corner labels
    std::vector<Driver> drivers;
    std::vector<std::vector<NodeId>> terminal_nodes; // [part][terminal]
    std::vector<IslandId> island_of_node;            // nodes joined by any branch, in any state
    std::uint32_t island_count = 0;
    std::vector<std::vector<BranchId>> branches_of_island; // [island]
    std::vector<BranchId> wire_branch;                     // [wire]

    NodeId node(TerminalRef ref) const { return terminal_nodes[ref.part.value][ref.terminal.value]; }
};

// Terminals joined by resistance-free conductor elements share a node; every wire is a branch. Wire resistance:
// published maximum at 20 °C for its area and class (`resistance_per_length`, given as a function so that the table
// stays outside), R(T) = R20 (1 + 0.00393 (T - 20 °C)) from the coldest ambient to the insulation class temperature.
using ConductorResistance = std::function<std::optional<ResistancePerLength>(const WireElement&)>;
Circuit build_circuit(const Design& design, const ConductorResistance& resistance_per_length);

// One line per branch with its nodes and parameters, for tests: "fuse main_fuse 3-4 [0.005..0.01]"; "?" marks a
// stand-in.
std::string to_text(const Circuit& circuit, const Design& design);

} // namespace trivet
