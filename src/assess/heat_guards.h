#pragma once

#include "assess/analysis.h"

#include <string>
#include <vector>

namespace trivet {

// A switch or cutoff whose opening alone ends a heater's current, and what makes it act.
struct HeatGuard {
    std::string device;
    ActuatedBy by{};
    std::vector<std::string> pins;     // controller pins its command comes from
    std::vector<std::string> through;  // what passes the command on
    std::vector<std::string> controls; // of the design
    std::vector<std::string> sensors;  // on which that decision rests
    bool independent = false;          // a cutoff that shares nothing with the control
};

struct GuardedHeater {
    std::string heater;
    std::vector<HeatGuard> guards; // in the order of the circuit; fuses and wires left out
};
std::vector<GuardedHeater> guarded_heaters(const Design& design, const Analysis& analysis);

} // namespace trivet
