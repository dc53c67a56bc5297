#pragma once

#include "thermal/transient.h"

namespace trivet {

// A run long enough to have settled, or three days of it, with at least 800 recorded moments.
struct LongRun {
    Run run;
    std::optional<Time> settled;     // from then on every body stays within 0.5 K of its range at the end
    std::vector<Temperature> lowest; // [body] in that last part; where nothing settled, in the last quarter
    std::vector<Temperature> highest;
};
LongRun run_until_settled(const ThermalNetwork& network, RunSetup setup);

// How much of it is worth showing: the way there and some cycles; after a cutoff has opened for good, the peak and a
// little of the cooling. Rounded up to what a clock face has.
Time worth_showing(const ThermalNetwork& network, const RunSetup& setup, const LongRun& run);

// When all of it is over for good, a grid of 500 to 1250 steps, each a round number of seconds.
Time grid_step(Time span);

} // namespace trivet
