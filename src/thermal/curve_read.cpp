#include "thermal/curve_read.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

bool is_of(const Switching& switching, bool is_cutoff, std::uint32_t which) {
    return switching.is_cutoff == is_cutoff && switching.which == which;
}

// On or closed before anything happened: the opposite of what its first switching does.
bool at_first(const Run& run, bool is_cutoff, std::uint32_t which) {
    for (const Switching& switching : run.switchings)
        if (is_of(switching, is_cutoff, which)) return !switching.closes;
    return is_cutoff || run.on_end[which];
}

// Everything in the way of a source that may be open.
struct InTheWay {
    bool is_cutoff = false;
    std::uint32_t which = 0;
    bool closed = true;
};

std::vector<InTheWay> in_the_way(const Run& run, const RunSetup& setup, const HeatSource& source) {
    std::vector<InTheWay> result;
    if (source.control && !setup.controls[*source.control].stuck_on)
        result.push_back({false, *source.control, at_first(run, false, *source.control)});
    for (const std::uint32_t cutoff : source.cutoffs) result.push_back({true, cutoff, at_first(run, true, cutoff)});
    return result;
}

double temperature(const Run& run, std::size_t moment, std::uint32_t body) {
    return run.temperatures[moment * run.end.size() + body].si;
}

} // namespace

std::vector<Time> grid(Time end, Time step) {
    std::vector<Time> times;
    const auto steps = static_cast<std::size_t>(std::floor(end.si / step.si + 1e-9));
    for (std::size_t i = 0; i <= steps; ++i) times.push_back({static_cast<double>(i) * step.si});
    return times;
}

std::vector<Temperature> on_grid(const Run& run, std::span<const Time> times, std::span<const CurveBody> bodies) {
    std::vector<Temperature> result;
    std::size_t after = 0;
    for (const Time time : times) {
        while (after + 1 < run.times.size() && run.times[after] < time) ++after;
        const std::size_t before = after > 0 ? after - 1 : 0;
        const double width = run.times[after].si - run.times[before].si;
        const double share = width > 0.0 ? std::min(1.0, (time.si - run.times[before].si) / width) : 1.0;
        for (const CurveBody& body : bodies) {
            const double low = temperature(run, before, body.body.value);
            result.push_back({low + share * (temperature(run, after, body.body.value) - low)});
        }
    }
    return result;
}

std::optional<Time> first_above(const Run& run, std::uint32_t body, Temperature level) {
    for (std::size_t t = 0; t < run.times.size(); ++t) {
        const double now = temperature(run, t, body);
        if (now < level.si) continue;
        if (t == 0) return run.times[0];
        const double before = temperature(run, t - 1, body);
        const double share = now > before ? (level.si - before) / (now - before) : 1.0;
        return run.times[t - 1] + share * (run.times[t] - run.times[t - 1]);
    }
    return std::nullopt;
}

std::optional<Time> first_opening(const Run& run, std::uint32_t cutoff) {
    for (const Switching& switching : run.switchings)
        if (is_of(switching, true, cutoff) && !switching.closes) return switching.at;
    return std::nullopt;
}

std::size_t openings(const Run& run, std::uint32_t cutoff) {
    return static_cast<std::size_t>(std::ranges::count_if(run.switchings, [&](const Switching& switching) {
        return is_of(switching, true, cutoff) && !switching.closes;
    }));
}

CycleSeen last_cycles(const Run& run, std::uint32_t control) {
    constexpr std::size_t most_cycles = 5;
    std::vector<Time> off;
    std::vector<double> on_until_off; // seconds with the heat on up to that opening
    bool on = at_first(run, false, control);
    double since = 0.0;
    double total = 0.0;
    for (const Switching& switching : run.switchings) {
        if (!is_of(switching, false, control) || switching.closes == on) continue;
        on = switching.closes;
        if (on) {
            since = switching.at.si;
            continue;
        }
        total += switching.at.si - since;
        off.push_back(switching.at);
        on_until_off.push_back(total);
    }
    if (off.size() >= 2) {
        const std::size_t cycles = std::min(most_cycles, off.size() - 1);
        const double length = (off.back() - off[off.size() - 1 - cycles]).si;
        const double heating = on_until_off.back() - on_until_off[off.size() - 1 - cycles];
        return {heating / length, Time{length / static_cast<double>(cycles)}};
    }
    if (on) total += run.ended.si - since;
    return {run.ended.si > 0.0 ? total / run.ended.si : 0.0, {}};
}

std::vector<double> share_on(const Run& run, const RunSetup& setup, const HeatSource& source,
                             std::span<const Time> times) {
    std::vector<InTheWay> switches = in_the_way(run, setup, source);
    const auto heats = [&] { return std::ranges::all_of(switches, &InTheWay::closed); };
    std::vector<double> shares;
    auto next = run.switchings.begin();
    for (std::size_t i = 0; i < times.size(); ++i) {
        const Time end = i + 1 < times.size() ? times[i + 1] : times[i];
        double now = times[i].si;
        double seconds = 0.0;
        for (; next != run.switchings.end() && next->at < end; ++next) {
            if (heats()) seconds += next->at.si - now;
            now = next->at.si;
            for (InTheWay& one : switches)
                if (is_of(*next, one.is_cutoff, one.which)) one.closed = next->closes;
        }
        if (heats()) seconds += end.si - now;
        const double length = (end - times[i]).si;
        shares.push_back(length > 0.0 ? std::clamp(seconds / length, 0.0, 1.0) : heats() ? 1.0 : 0.0);
    }
    return shares;
}

} // namespace trivet
