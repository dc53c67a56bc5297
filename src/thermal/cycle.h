#pragma once

#include "thermal/transient.h"

#include <tl/expected.hpp>

namespace trivet {

// Average running: the duty of every control at which its sensor holds the middle of its band, and the temperatures
// then. Duty 1: it heats all the time and does not get there; 0: it never needs to heat.
struct MeanRunning {
    std::vector<double> duty;              // [control]
    std::vector<Temperature> temperatures; // [body]
};
MeanRunning mean_running(const ThermalNetwork& network, const RunSetup& setup);

// The periodic state a two-point control settles into: found by shooting on the return map (Anderson-accelerated),
// started from the average running, and accepted when a cycle returns to where it began within 1 mK everywhere.
struct Cycle {
    bool found = false; // false with several controls that beat against each other: then the ranges are those seen
    bool cycles = true; // false: it never switches (duty 0 or 1), `period` means nothing
    Time period;
    Time on_time;
    double duty = 0.0;
    Power mean_power;
    std::vector<Temperature> lowest;  // [body]
    std::vector<Temperature> highest; // [body]
    Temperature felt_lowest;          // by the control's sensor
    Temperature felt_highest;
    double residual = 0.0; // K
};
// One cycle per control.
std::vector<Cycle> periodic_running(const ThermalNetwork& network, const RunSetup& setup);

} // namespace trivet
