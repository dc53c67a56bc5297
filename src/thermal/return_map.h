#pragma once

#include "thermal/transient.h"

#include <optional>

namespace trivet {

// A cycle of one control, from one switching on to the next.
struct Shot {
    Run run;
    double residual = 0.0; // by how much the end differs from the start, K
};

// The cycle that returns to where it began: the return map's fixed point by Anderson's method (H. Walker, P. Ni, SIAM
// J. Numer. Anal. 49, 2011, 1715). `setup` holds the state to begin with, some time while this control is on, and what
// the others do. Empty: something else switches, too, or it does not switch again.
std::optional<Shot> shoot(const ThermalNetwork& network, RunSetup setup, std::uint32_t control);

} // namespace trivet
