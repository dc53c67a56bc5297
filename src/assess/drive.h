#pragma once

#include "assess/pin_on_net.h"
#include "assess/subject_writer.h"

#include <optional>
#include <string>
#include <variant>

namespace trivet {

// What drives a contact or transistor: the input of its module with the controller pin behind it, or its coil with the
// switches that feed the coil.
struct Drive {
    const InputElement* input = nullptr; // of the same part; null for coils and hand switches
    std::optional<BranchId> coil;
    std::optional<PinBehind> pin; // wired to the input, or directly to the coil
};
Drive find_drive(const Gathering& from, BranchId switch_branch);

// What holds the switch while the controller is in reset, as a clause: "board.IO16 pulses while the controller starts".
std::string reset_remark(const Gathering& from, BranchId switch_branch, const Drive& drive);

// Whether the switch is open while the controller is in reset, being flashed or unplugged. The level at an input is the
// divider of all resistances that pull it (module, pin in reset, external resistors) against the input's off level.
std::variant<bool, Unknown> open_in_reset(const Gathering& from, BranchId switch_branch);

} // namespace trivet
