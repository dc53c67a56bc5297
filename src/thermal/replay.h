#pragma once

#include "thermal/fit.h"

namespace trivet {

// Runs a network along a log: the log's air and switching go in, temperatures come out. Between two rows the air
// changes evenly and every source keeps its share. Method: four-stage stiffly accurate Rosenbrock method of order 3
// (RODAS3; A. Sandu et al., Atmospheric Environment 31, 1997, 3459) on the heat contents.
class Replay {
public:
    explicit Replay(const HeatLog& log)
        : log_(log) {}

    // Temperatures [row x body] from the given start. `again`: with the steps of the last run that was not `again`, so
    // that the difference of two runs is as smooth as the network. Empty when the temperatures leave all bounds.
    std::vector<double> run(const ThermalNetwork& network, const std::vector<double>& start, bool again);

private:
    const HeatLog& log_;
    std::vector<std::uint32_t> steps_; // [row]: steps until the next row
};

} // namespace trivet
