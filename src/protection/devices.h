#pragma once

#include "circuit/circuit.h"

#include <optional>
#include <span>
#include <vector>

namespace trivet {

// A cutoff or fuse that opens, or a driver that goes to one of its two positions and opens all its branches that are
// open there.
struct Device {
    std::optional<DriverId> driver; // none: a cutoff or fuse
    bool opens_when_on = false;     // the driver's position: on, for contacts that rest closed
    std::vector<BranchId> opens;    // in branch order
};

// Every device of a circuit, cutoffs and fuses by branch, then drivers; one position of a driver each.
std::vector<Device> devices_of(const Circuit& circuit);

// Who turns one heater off. `fed`: a supply reaches it at all with everything closed.
struct HeaterDevices {
    BranchId heater;
    bool fed = false;
    std::vector<Device> devices; // each alone leaves no loop through the heater and a supply, all else closed
};

// Unlike interrupters_of (circuit/paths.h) this finds drivers that break several ways at once: two poles in two
// supplies' leads, parallel contacts of one relay. Time: devices of an island times the island.
std::vector<HeaterDevices> devices_that_interrupt(const Circuit& circuit);

// Whether a loop through the branch and a supply is left when these branches are open and all else closed.
bool stays_fed(const Circuit& circuit, BranchId heater, std::span<const BranchId> opened);

} // namespace trivet
