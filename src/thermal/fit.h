#pragma once

#include "thermal/network.h"

#include <functional>
#include <string>
#include <vector>

namespace trivet {

// A measured log: temperatures of some bodies, the room, and which sources were on.
struct HeatLog {
    std::vector<Time> times;               // rising
    std::vector<std::uint32_t> bodies;     // columns: body index
    std::vector<Temperature> temperatures; // [time x columns]; NaN: not measured there
    std::vector<Temperature> ambient;      // [time]; empty: the network's own
    std::vector<std::vector<double>> on;   // [source][time]: share of its power until the next time
};

// A number that the fit may change: conductance of a link, or capacity of a body.
struct OpenParameter {
    enum class Kind : std::uint8_t { conductance, capacity } kind{};
    std::uint32_t index = 0;  // link or body
    std::string name;         // "plate to ambient (conductance)"
    double first_guess = 0.0; // SI; 0: found from the log
};

struct FittedParameter {
    OpenParameter parameter;
    double value = 0.0;   // SI
    double lowest = 0.0;  // side of the box around the joint 95 % confidence region of all open parameters (F
    double highest = 0.0; // distribution); with a single one that is its 95 % interval by Student's t
};

struct FitResult {
    std::vector<FittedParameter> parameters;
    TemperatureDifference residual; // root mean square
    TemperatureDifference largest_residual;
    double autocorrelation = 0.0; // of neighbouring residuals, 0 to 1. Above 0.2 intervals are widened as if the log
                                  // had fewer rows; above 0.5 the model misses something that this cannot make good
    std::vector<std::string> undetermined; // names that this log cannot determine; then `parameters` must not be used
    std::size_t missing = 0;               // how many of those, stated, would let the log determine the others
    int iterations = 0;
    bool converged = false;
};

// Least squares (Levenberg-Marquardt, parameters by their logarithm). `progress` is told the iteration and the
// residual.
FitResult fit(ThermalNetwork network, const std::vector<OpenParameter>& open, const HeatLog& log,
              const std::function<void(int, TemperatureDifference)>& progress = {});

} // namespace trivet
