#pragma once

#include "thermal/fit.h"
#include "thermal/heat_log.h"
#include "thermal/heat_model.h"

namespace trivet {

// What the design leaves open, capacities last: bodies without mass and capacity, paths without any law. Link numbers
// are those of heat_network in the normal situation.
std::vector<OpenParameter> open_parameters(const Design& design);

// Index of the heat path behind a link of the normal situation.
std::size_t path_of_link(const Design& design, std::uint32_t link);

// What a log of this design may name: its bodies, the parts that heat them, and what switches those.
LogNames log_names(const Design& design, const HeatInputs& inputs);

// What else must be stated before a log can decide the rest.
std::vector<std::string> missing_for_fit(const Design& design, const HeatInputs& inputs);

// The open numbers fitted with everything else at either end of its tolerance (HeatExtreme hot and cold): the intervals
// hold both. Residuals and autocorrelation are the larger of the two.
FitResult fit_design(const Design& design, const HeatInputs& inputs, const HeatLog& log,
                     const std::function<void(int, TemperatureDifference)>& progress = {});

} // namespace trivet
