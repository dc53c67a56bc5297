#pragma once

#include "circuit/nets.h"
#include "design/design.h"

#include <optional>
#include <string>

namespace trivet {

// A controller pin that a signal of another part is wired to.
struct PinBehind {
    PartId board;
    const PinElement* pin = nullptr;
    std::string name; // "board.IO4"
};

// The pin on a net that belongs to another part than `own_part`, if any.
std::optional<PinBehind> pin_on_net(const Design& design, const Nets& nets, NetId net, PartId own_part);

} // namespace trivet
