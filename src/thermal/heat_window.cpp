#include "thermal/heat_case.h"
#include "thermal/steady.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr TemperatureDifference window_step{0.2}; // how closely the highest safe trip temperature is looked for

bool guards(const HeatSource& source, std::uint32_t cutoff) {
    return std::ranges::find(source.cutoffs, cutoff) != source.cutoffs.end();
}

// The heaters that a cutoff guards are stuck on, everything else runs as on average, and no other cutoff exists.
HeatCase stuck_alone(const HeatCase& heat, std::uint32_t cutoff) {
    HeatCase alone = heat;
    for (HeatSource& source : alone.network.sources) {
        if (guards(source, cutoff)) {
            source.cutoffs = {0};
        } else {
            if (source.control) source.power = heat.mean.duty[*source.control] * source.power;
            source.cutoffs.clear();
        }
        source.control.reset();
    }
    alone.setup.controls.clear();
    return alone;
}

// What a cutoff has to keep, in one of its cases.
class Window {
public:
    Window(HeatCase alone, const HeatCutoff& cutoff, std::span<const HeatLimit> limits)
        : heat_(std::move(alone))
        , cutoff_(cutoff)
        , limits_(limits) {}

    std::uint32_t situation() const { return heat_.situation; }

    // The first limit that the temperatures pass.
    const HeatLimit* passed(std::span<const Temperature> at) const {
        const HeatLimit* worst = nullptr;
        TemperatureDifference most{0.0};
        for (const HeatLimit& limit : limits_) {
            const TemperatureDifference above = at[limit.body.value] - limit.highest;
            if (above <= most) continue;
            most = above;
            worst = &limit;
        }
        return worst;
    }

    // No trip temperature above this can be safe; empty: every fault is harmless here, even one that never trips.
    std::optional<Temperature> ceiling() {
        const auto at_rest = at_share(1.0);
        if (at_rest && passed(*at_rest) == nullptr) return std::nullopt;
        closed_by = at_rest ? passed(*at_rest) : nullptr;
        return std::min(felt_when_first_passed(), place_of_weakest_fault());
    }

    // Whether everything keeps its limit when the cutoff opens at `trip`; remembers which does not.
    bool is_safe(Temperature trip) {
        const Run run = open_at(trip);
        const HeatLimit* broken = passed(run.highest);
        if (broken != nullptr) closed_by = broken;
        return broken == nullptr;
    }

    Temperature lowest() const { return heat_.mean.temperatures[cutoff_.body->value]; }

    Run open_at(Temperature trip, std::optional<Temperature> closes = {}, std::size_t switchings = 1000) const {
        RunSetup setup = setup_with({.feels = feeler(), .opens = trip, .closes = closes});
        setup.most_switchings = switchings;
        if (!closes) setup.stop = until_nothing_rises();
        return simulate(heat_.network, setup);
    }

    const HeatLimit* closed_by = nullptr;

private:
    Feeler feeler() const { return {.body = cutoff_.body->value, .lag = cutoff_.lag}; }

    RunSetup setup_with(Trip trip) const {
        RunSetup setup;
        setup.cutoffs = {trip};
        setup.start = heat_.mean.temperatures;
        setup.until = days_enough;
        return setup;
    }

    // What the cutoff feels at the moment at which the first limit is passed.
    Temperature felt_when_first_passed() const {
        RunSetup setup = setup_with({.feels = feeler(), .opens = Temperature{1e9}, .closes = {}});
        setup.stop = [this](Time, std::span<const double> now) {
            return std::ranges::any_of(
                limits_, [&](const HeatLimit& limit) { return now[limit.body.value] > limit.highest.si; });
        };
        return simulate(heat_.network, setup).felt_end.front();
    }

    tl::expected<std::vector<Temperature>, NoSteadyState> at_share(double share) const {
        std::vector<double> on(heat_.network.sources.size(), 1.0);
        for (std::size_t i = 0; i < on.size(); ++i)
            if (!heat_.network.sources[i].cutoffs.empty()) on[i] = share;
        return steady_temperatures(heat_.network, on);
    }

    // A fault too weak to trip must not pass a limit in the long run either.
    Temperature place_of_weakest_fault() const {
        double low = 0.0;
        double high = 1.0;
        Temperature place = lowest();
        for (int step = 0; step < 24 && high - low > 1e-5; ++step) {
            const double middle = 0.5 * (low + high);
            const auto here = at_share(middle);
            const bool breaks = !here || passed(*here) != nullptr;
            (breaks ? high : low) = middle;
            if (!breaks) place = (*here)[cutoff_.body->value];
        }
        return place;
    }

    HeatCase heat_;
    const HeatCutoff& cutoff_;
    std::span<const HeatLimit> limits_;
};

struct Ceiling {
    Window* window = nullptr;
    Temperature highest;
};

// The highest trip temperature that is safe in this case, between the place's normal temperature and its ceiling.
std::optional<Temperature> highest_safe(Window& window, Temperature ceiling, bool in_time) {
    Temperature low = window.lowest();
    if (ceiling <= low) return std::nullopt;
    if (!in_time) return ceiling;
    if (window.is_safe(ceiling)) return ceiling;
    const TemperatureDifference hair{0.01};
    if (!window.is_safe(low + hair)) return std::nullopt;
    Temperature high = ceiling;
    while (high - low > window_step) {
        const Temperature middle = low + 0.5 * (high - low);
        (window.is_safe(middle) ? low : high) = middle;
    }
    return low;
}

void find_window(std::span<Window> windows, bool in_time, CutoffHeat& result) {
    std::vector<Ceiling> ceilings;
    for (Window& window : windows)
        if (const auto ceiling = window.ceiling()) ceilings.push_back({&window, *ceiling});
    std::ranges::sort(ceilings, {}, &Ceiling::highest);
    for (const Ceiling& ceiling : ceilings) {
        if (result.highest_safe && ceiling.highest >= *result.highest_safe) break;
        const auto safe = highest_safe(*ceiling.window, ceiling.highest, in_time);
        if (safe && result.highest_safe && *safe >= *result.highest_safe) continue;
        result.closed_in = ceiling.window->situation();
        if (ceiling.window->closed_by != nullptr) result.closed_by = ceiling.window->closed_by->what;
        result.highest_safe = safe ? *safe : ceiling.window->lowest();
        result.can_be_safe = safe.has_value();
        if (!safe) return;
    }
}

// From the fault to the opening, and from one opening to the next where it closes by itself.
void find_times(const Window& normal, const HeatCutoff& cutoff, CutoffHeat& result) {
    const Run run = normal.open_at(cutoff.trip->hi);
    if (run.switchings.empty()) return;
    result.operating_time = run.switchings.front().at;
    if (!cutoff.resets_itself || !cutoff.reset) return;
    const Temperature closes = std::min(cutoff.reset->middle(), cutoff.trip->middle() - TemperatureDifference{1.0});
    std::vector<Time> openings;
    for (const Switching& switching : normal.open_at(cutoff.trip->middle(), closes, 8).switchings)
        if (!switching.closes) openings.push_back(switching.at);
    if (openings.size() >= 2) result.cycle = openings.back() - openings[openings.size() - 2];
}

} // namespace

void study_cutoff(const HeatInputs& inputs, std::span<const HeatLimit> limits, std::uint32_t index,
                  std::span<const HeatCase> hot, const HeatCase& cold, bool in_time, HeatStudy& study) {
    CutoffHeat& result = study.cutoffs[index];
    const HeatCutoff& cutoff = inputs.cutoffs[index];
    if (!cutoff.body) return;
    result.normal = study.bodies[cutoff.body->value].normal;
    std::vector<Window> windows;
    for (const HeatCase& heat : hot) {
        const HeatCase alone = stuck_alone(heat, index);
        const bool guards_heat = std::ranges::any_of(alone.network.sources,
                                                     [](const HeatSource& source) { return !source.cutoffs.empty(); });
        const auto at_rest = stuck_temperatures(alone);
        if (!guards_heat || !at_rest) continue;
        const Temperature place = (*at_rest)[cutoff.body->value];
        if (!result.stuck.value || place > *result.stuck.value) result.stuck = {place, heat.situation};
        windows.emplace_back(alone, cutoff, limits);
    }
    if (windows.empty()) return;
    find_window(windows, in_time, result);
    if (!cutoff.trip) return;
    if (const auto at_rest = stuck_temperatures(stuck_alone(cold, index)))
        result.surely_trips = (*at_rest)[cutoff.body->value] >= cutoff.trip->hi;
    if (in_time) find_times(windows.front(), cutoff, result);
}

} // namespace trivet
