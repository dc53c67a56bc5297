#pragma once

#include "circuit/circuit.h"
#include "circuit/nets.h"
#include "design/design.h"
#include "protection/devices.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace trivet {

// What makes a switch or cutoff act, looked at from nearby.
enum class ActuatedBy : std::uint8_t {
    nothing,  // its input or coil hangs in the air: it stays where it rests
    fixed,    // its input or coil is wired to a supply, past no switch: it never changes
    hand,     // a person
    heat,     // its own temperature: a cutoff
    pin,      // a controller pin
    signal,   // a sensor's own output
    switches, // contacts, transistors, cutoffs or hand switches that feed its coil or input
};
inline constexpr std::array<std::string_view, 7> actuated_by_names{"nothing", "fixed",  "hand",    "heat",
                                                                   "pin",     "signal", "switches"};

// The whole chain behind one switch or cutoff, from its input or coil through whatever passes on the command, to where
// it comes from and what feeds all of it. Every list is in the order of discovery, nearest first, each thing once.
struct Actuation {
    PartId part;
    std::optional<DriverId> driver;    // none: a cutoff or fuse
    ActuatedBy by{};                   // fuses: nothing
    std::optional<TerminalRef> input;  // of the same part
    std::optional<BranchId> coil;      // of the same part
    std::vector<TerminalRef> pins;     // controller pins the command comes from
    std::size_t own_pins = 0;          // the first of them: those wired to its own input or coil
    std::vector<BranchId> through;     // contacts, transistors and cutoffs that pass the command on
    std::vector<DriverId> drivers;     // its own and those of `through`
    std::vector<PartId> boards;        // whose firmware decides
    std::vector<PartId> sensors;       // what that decision rests on; a cutoff senses for itself
    std::vector<std::size_t> controls; // indexes into Design::controls: those that name a part of the chain
    std::vector<BranchId>
        fed_through;                  // switches and cutoffs in the supply lines of the boards and modules of the chain
    std::vector<BranchId> converters; // that feed them
    std::vector<BranchId> supplies;   // sources that feed them
    bool returns_to_itself = false;   // the command, or the supply behind it, depends on this very switch
};

// One for every driver of the circuit, by DriverId.
std::vector<Actuation> actuations_of_drivers(const Circuit& circuit, const Nets& nets, const Design& design);
Actuation actuation_of_cutoff(const Circuit& circuit, const Design& design, BranchId cutoff);

enum class Shared : std::uint8_t { part, driver, passed_on_by, board, pin, sensor, control, converter, supply };
inline constexpr std::array<std::string_view, 9> shared_names{"part",   "driver",  "passed on by", "board", "pin",
                                                              "sensor", "control", "converter",    "supply"};

// Something two actuations have in common.
struct SharedThing {
    Shared kind{};
    PartId part;             // the part it is or belongs to; not for controls
    std::size_t control = 0; // index into Design::controls
};

// Everything, the most telling first.
std::vector<SharedThing> what_is_shared(const Circuit& circuit, const Actuation& a, const Actuation& b);

// No single part, firmware, sensor or control stands behind both. A common supply or converter does not count: when it
// dies, neither heats.
bool are_independent(const Circuit& circuit, const Actuation& a, const Actuation& b);

// Devices grouped into those that act as one, because they share something that counts: two relays on one board are one
// control. Indexes into `actuations`, each group and the groups in rising order.
std::vector<std::vector<std::size_t>> independent_groups(const Circuit& circuit,
                                                         const std::vector<Actuation>& actuations);

} // namespace trivet
