#pragma once

#include "thermal/heat_curve.h"

#include <span>

namespace trivet {

// Moments from 0 to `end` every `step`; the last is at or before the end.
std::vector<Time> grid(Time end, Time step);

// Temperatures of a recorded run at these moments, straight between what was recorded: [time x bodies].
std::vector<Temperature> on_grid(const Run& run, std::span<const Time> times, std::span<const CurveBody> bodies);

// When a body of a recorded run first reaches a temperature.
std::optional<Time> first_above(const Run& run, std::uint32_t body, Temperature level);

std::optional<Time> first_opening(const Run& run, std::uint32_t cutoff);
std::size_t openings(const Run& run, std::uint32_t cutoff);

// The last five cycles of a control at most, from opening to opening.
struct CycleSeen {
    double duty = 0.0; // without two openings: of the whole run
    std::optional<Time> cycle;
};
CycleSeen last_cycles(const Run& run, std::uint32_t control);

// The share of time from each of these moments to the next in which a source heats; of the last, 0 or 1.
std::vector<double> share_on(const Run& run, const RunSetup& setup, const HeatSource& source,
                             std::span<const Time> times);

} // namespace trivet
