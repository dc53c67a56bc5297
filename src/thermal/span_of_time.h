#pragma once

#include "thermal/stepper.h"
#include "thermal/switchboard.h"

namespace trivet {

// A piece of the stepper's last step, with the state and its rates at both ends.
struct TimeSpan {
    double from = 0.0;
    double to = 0.0;
    std::vector<double> first;
    std::vector<double> first_rate;
    std::vector<double> last;
    std::vector<double> last_rate;
};

// When a component first reaches its level in this piece, to 1e-9 of it; also when it returns before the end. At the
// answer the level is reached. Empty: it does not.
std::optional<double> first_reached(Stepper& stepper, const TimeSpan& piece, const Watch& watch);

// The moment inside the piece at which a component turns back, by the cubic through its ends. Empty: it does not.
std::optional<double> turning_time(const TimeSpan& piece, std::size_t component);

} // namespace trivet
