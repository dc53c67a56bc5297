#include "thermal/curve_span.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

constexpr double close_enough = 0.5;      // K
constexpr double shortest = 2.0 * 3600.0; // s that is followed at least
constexpr double longest = 3.0 * 86400.0;
constexpr double moments = 800.0;
constexpr std::size_t most_switchings = 40000;

struct Band {
    double lowest = 1e30;
    double highest = -1e30;
};

std::vector<Band> bands_between(const Run& run, std::size_t bodies, double from, double to) {
    std::vector<Band> bands(bodies);
    for (std::size_t t = 0; t < run.times.size(); ++t) {
        if (run.times[t].si < from || run.times[t].si > to) continue;
        for (std::size_t i = 0; i < bodies; ++i) {
            const double value = run.temperatures[t * bodies + i].si;
            bands[i].lowest = std::min(bands[i].lowest, value);
            bands[i].highest = std::max(bands[i].highest, value);
        }
    }
    return bands;
}

bool are_alike(const std::vector<Band>& one, const std::vector<Band>& other) {
    return std::ranges::equal(one, other, [](const Band& a, const Band& b) {
        return std::abs(a.lowest - b.lowest) < close_enough && std::abs(a.highest - b.highest) < close_enough;
    });
}

// The moment after the last one at which some body is outside its band.
double inside_from(const Run& run, const std::vector<Band>& bands) {
    const std::size_t bodies = bands.size();
    for (std::size_t t = run.times.size(); t-- > 0;)
        for (std::size_t i = 0; i < bodies; ++i) {
            const double value = run.temperatures[t * bodies + i].si;
            if (value < bands[i].lowest - close_enough || value > bands[i].highest + close_enough)
                return run.times[std::min(t + 1, run.times.size() - 1)].si;
        }
    return 0.0;
}

std::vector<double> switched_off(const Run& run) {
    std::vector<double> times;
    for (const Switching& switching : run.switchings)
        if (!switching.closes) times.push_back(switching.at.si);
    return times;
}

bool guards_all_heat(const ThermalNetwork& network, const std::vector<bool>& open) {
    return std::ranges::all_of(network.sources, [&](const HeatSource& source) {
        return std::ranges::any_of(source.cutoffs, [&](std::uint32_t cutoff) { return open[cutoff]; });
    });
}

// When the last cutoff opened after which nothing heats any more.
std::optional<double> over_from(const ThermalNetwork& network, const RunSetup& setup, const Run& run) {
    std::vector<bool> open(setup.cutoffs.size(), false);
    for (const Switching& switching : run.switchings) {
        if (!switching.is_cutoff || setup.cutoffs[switching.which].closes) continue;
        open[switching.which] = true;
        if (guards_all_heat(network, open)) return switching.at.si;
    }
    return std::nullopt;
}

double rounded_up(double seconds) {
    constexpr std::array round{30.0,    60.0,    120.0,   180.0,   300.0,   600.0,    900.0,    1200.0,  1800.0,
                               2700.0,  3600.0,  5400.0,  7200.0,  10800.0, 14400.0,  18000.0,  21600.0, 28800.0,
                               36000.0, 43200.0, 57600.0, 64800.0, 86400.0, 129600.0, 172800.0, 216000.0};
    const auto found = std::ranges::find_if(round, [&](double r) { return r >= seconds * 0.999; });
    return found == round.end() ? longest : *found;
}

} // namespace

LongRun run_until_settled(const ThermalNetwork& network, RunSetup setup) {
    const std::size_t bodies = network.bodies.size();
    setup.record = true;
    setup.most_switchings = most_switchings;
    LongRun result;
    for (double length = shortest;; length = std::min(2.0 * length, longest)) {
        setup.until = {length};
        setup.record_every = {length / moments};
        result.run = simulate(network, setup);
        const double end = result.run.ended.si;
        const auto last = bands_between(result.run, bodies, 0.75 * end, end);
        const bool is_settled = are_alike(bands_between(result.run, bodies, 0.375 * end, 0.5 * end), last);
        if (!is_settled && end >= length && length < longest) continue;
        if (is_settled) result.settled = Time{inside_from(result.run, last)};
        for (const Band& band : last) {
            result.lowest.push_back({band.lowest});
            result.highest.push_back({band.highest});
        }
        return result;
    }
}

Time worth_showing(const ThermalNetwork& network, const RunSetup& setup, const LongRun& long_run) {
    constexpr double cycles_to_show = 4.0;
    const Run& run = long_run.run;
    if (const auto over = over_from(network, setup, run)) {
        double last_peak = *over;
        for (const Time at : run.highest_at) last_peak = std::max(last_peak, at.si);
        return {std::min(run.ended.si, rounded_up(1.4 * last_peak))};
    }
    const std::vector<double> off = switched_off(run);
    double span = long_run.settled ? 1.15 * long_run.settled->si : run.ended.si;
    if (off.size() >= 2) {
        const double cycle = off.back() - off[off.size() - 2];
        span = std::max({span, off.front() + cycles_to_show * cycle,
                         (long_run.settled ? long_run.settled->si : 0.0) + 0.5 * cycles_to_show * cycle});
    }
    constexpr double nothing_happens = 600.0;
    if (span <= 0.0) span = nothing_happens;
    return {std::min(run.ended.si, rounded_up(span))};
}

Time grid_step(Time span) {
    constexpr std::array steps{0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0};
    const auto found = std::ranges::find_if(steps, [&](double step) { return span.si / step <= 1250.0; });
    return {found == steps.end() ? span.si / 1000.0 : *found};
}

} // namespace trivet
