#include "assess/pin_on_net.h"

namespace trivet {

std::optional<PinBehind> pin_on_net(const Design& design, const Nets& nets, NetId net, PartId own_part) {
    for (const TerminalRef ref : nets.terminals[net.value]) {
        if (ref.part == own_part) continue;
        for (const Element& element : design.part(ref.part).part->elements) {
            const auto* pin = std::get_if<PinElement>(&element.body);
            if (pin != nullptr && pin->terminal == ref.terminal)
                return PinBehind{ref.part, pin, design.terminal_name(ref)};
        }
    }
    return std::nullopt;
}

} // namespace trivet
