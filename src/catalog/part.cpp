#include "catalog/part.h"

#include <algorithm>

namespace trivet {

int Part::terminal(std::string_view terminal_name) const {
    const auto found = std::ranges::find(terminals, terminal_name, &TerminalSpec::name);
    return found == terminals.end() ? -1 : static_cast<int>(found - terminals.begin());
}

} // namespace trivet
