#pragma once

#include "circuit/circuit.h"
#include "design/design.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace trivet {

// Why a thermal cutoff of the design does not protect a heater.
enum class CutoffFault : std::uint8_t {
    other_circuit,  // it carries current of something else
    drive_circuit,  // it opens the coil or supply of `other`, whose contact then has to open: a welded contact defeats
                    // it
    bypassed,       // heater current has a second way around it
    shares_part,    // `other` both controls the heater and holds the cutoff
    is_the_control, // it is itself what a [[control]] senses or drives, or the only thing that regulates the heater
};

struct CutoffVerdict {
    BranchId cutoff;
    bool interrupts = false;          // opening it alone leaves no loop through the heater and a supply
    std::optional<CutoffFault> fault; // none: it is an independent cutoff of this heater
    std::optional<PartId> other;
};

// Who can turn one heater off. Independent: shares no part, sensor, firmware or single failure with the control.
struct HeaterProtection {
    BranchId heater;
    std::vector<BranchId> interrupters; // everything whose opening alone turns it off
    std::vector<CutoffVerdict> cutoffs; // every thermal cutoff in its island, in branch order

    std::size_t interrupting() const;
    std::size_t independent() const;
};

std::vector<HeaterProtection> judge_protection(const Circuit& circuit, const Design& design);

} // namespace trivet
