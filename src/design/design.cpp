#include "design/design.h"

namespace trivet {

std::string Design::terminal_name(TerminalRef ref) const {
    const PartUse& use = part(ref.part);
    return use.name + '.' + use.part->terminals[ref.terminal.value].name;
}

} // namespace trivet
