#pragma once

#include "assess/heat_guards.h"

#include <string>

namespace trivet {

// "mat: heat_switch, told by board.IO16 (control 'hold the tray', sensor probe); over_temp, by its own heat and
// independent of everything else."
std::string guard_sentence(const GuardedHeater& heater);

} // namespace trivet
