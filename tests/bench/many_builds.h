#pragma once

#include <cstddef>
#include <string>

namespace trivet::bench {

// A design file with about `wires` wires: as many copies of one 20-wire build (supply, fuse, cutoff, plate, transistor,
// converter, board, fan, sensor) as it takes, each with its own supply.
std::string many_builds(std::size_t wires);

// The same with bodies, heat paths and a control for each copy.
std::string many_warm_builds(std::size_t wires);

} // namespace trivet::bench
