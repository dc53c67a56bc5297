#pragma once

#include "thermal/network.h"

#include <tl/expected.hpp>

#include <span>
#include <vector>

namespace trivet {

// Why there are no steady temperatures.
struct NoSteadyState {
    enum class Why : std::uint8_t { no_way_to_the_room, runs_away } why{};
    std::uint32_t body = 0; // one that has no way, or that gets hotter and hotter
};

// Temperatures at which every body loses what it gets: damped Newton, sparse LU. `on`: [source] share of its power, 0
// to 1 (an average duty is allowed). Heat balance of every body closes to 1e-9 of the power.
tl::expected<std::vector<Temperature>, NoSteadyState> steady_temperatures(const ThermalNetwork& network,
                                                                          std::span<const double> on);

} // namespace trivet
