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
    double value = 0.0;  // SI
    double lowest = 0.0; // 95 % confidence interval (Student's t)
    double highest = 0.0;
};

struct FitResult {
    std::vector<FittedParameter> parameters;
    TemperatureDifference residual; // root mean square
    TemperatureDifference largest_residual;
    double autocorrelation =
        0.0; // of neighbouring residuals: above 0.5 the model misses something, intervals too narrow
    std::vector<std::string> undetermined; // names that this log cannot determine; then `parameters` must not be used
    int iterations = 0;
    bool converged = false;
};

// Least squares (Levenberg-Marquardt, parameters by their logarithm). `progress` is told the iteration and the
// residual.
FitResult fit(ThermalNetwork network, const std::vector<OpenParameter>& open, const HeatLog& log,
              const std::function<void(int, TemperatureDifference)>& progress = {});

} // namespace trivet
