#include "thermal/steady.h"

#include "thermal/heat_balance.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double aim = 1e-12;
constexpr double promised = 1e-9;

bool carries_heat(const HeatLink& link) {
    if (!(link.share > 0.0)) return false;
    const auto* conducts = std::get_if<Conducts>(&link.law);
    return conducts != nullptr ? conducts->conductance.si > 0.0 : std::get_if<Surface>(&link.law)->area.si > 0.0;
}

// The first body from which no path that carries heat leads to the room.
std::optional<std::uint32_t> body_without_way(const ThermalNetwork& network) {
    std::vector<std::vector<std::uint32_t>> neighbours(network.bodies.size());
    std::vector<bool> reached(network.bodies.size(), false);
    std::vector<std::uint32_t> open;
    const auto reach = [&](std::uint32_t body) {
        if (reached[body]) return;
        reached[body] = true;
        open.push_back(body);
    };
    for (const HeatLink& link : network.links) {
        if (!carries_heat(link)) continue;
        if (link.to == room) {
            reach(link.from);
        } else {
            neighbours[link.from].push_back(link.to);
            neighbours[link.to].push_back(link.from);
        }
    }
    while (!open.empty()) {
        const std::uint32_t body = open.back();
        open.pop_back();
        for (const std::uint32_t next : neighbours[body]) reach(next);
    }
    const auto missed = std::ranges::find(reached, false);
    if (missed == reached.end()) return std::nullopt;
    return static_cast<std::uint32_t>(missed - reached.begin());
}

std::uint32_t hottest(const std::vector<double>& kelvin) {
    return static_cast<std::uint32_t>(std::ranges::max_element(kelvin) - kelvin.begin());
}

// Sources only heat, so no body ends up below the air of the room.
void advance(const std::vector<double>& kelvin, double share, const std::vector<double>& step, double ambient,
             std::vector<double>& next) {
    for (std::size_t i = 0; i < kelvin.size(); ++i) next[i] = std::max(ambient, kelvin[i] + share * step[i]);
}

// Every source gives less or the same when it gets warmer: one solution, and each step halved until it brings the
// balance closer leads to it. Starting a little above the room, as nothing is lost by convection at equal temperatures.
bool settle(HeatBalance& balance, double ambient, std::vector<double>& kelvin) {
    constexpr int most_steps = 100;
    constexpr int most_halvings = 40;
    constexpr double first_rise = 30.0;
    for (double& temperature : kelvin) temperature = ambient + first_rise;
    std::vector<double> step;
    std::vector<double> next(kelvin.size());
    balance.evaluate(kelvin);
    for (int i = 0; i < most_steps && !balance.closes_to(aim); ++i) {
        const double before = balance.squared_norm();
        if (!balance.newton_step(0.0, false, step)) return false;
        double share = 1.0;
        int halvings = 0;
        for (; halvings < most_halvings; ++halvings, share *= 0.5) {
            advance(kelvin, share, step, ambient, next);
            balance.evaluate(next);
            if (balance.squared_norm() < before) break;
        }
        if (halvings == most_halvings) { // as close as rounding allows
            balance.evaluate(kelvin);
            break;
        }
        kelvin.swap(next);
    }
    return balance.closes_to(promised);
}

// Some source gives more when it gets warmer, so there may be none or several solutions: goes up from the room in
// limited steps, as the warm-up does, to the first stable one. Where the balance is unstable, added conductance keeps
// the direction of the warm-up.
bool warm_up(HeatBalance& balance, double ambient, double longest_step, std::vector<double>& kelvin) {
    constexpr int most_steps = 2000;
    constexpr double first_shift = 0.25;
    constexpr double most_shift = 1e12;
    std::vector<double> step;
    std::vector<double> next(kelvin.size());
    for (double& temperature : kelvin) temperature = ambient;
    balance.evaluate(kelvin);
    for (int i = 0; i < most_steps && !balance.closes_to(aim); ++i) {
        double shift = 0.0;
        while (!balance.newton_step(shift, true, step)) {
            if (shift > most_shift) return false;
            shift = shift == 0.0 ? first_shift : 2.0 * shift;
        }
        double longest = 0.0;
        for (const double change : step) longest = std::max(longest, std::abs(change));
        const double share = longest > longest_step ? longest_step / longest : 1.0;
        advance(kelvin, share, step, ambient, next);
        if (next == kelvin) break;
        kelvin.swap(next);
        balance.evaluate(kelvin);
    }
    return balance.closes_to(promised);
}

double steepest_fall(const ThermalNetwork& network, std::span<const double> on) {
    double steepest = 0.0;
    for (std::size_t i = 0; i < network.sources.size(); ++i)
        if (on[i] > 0.0) steepest = std::max(steepest, -network.sources[i].coefficient.si);
    return steepest;
}

// A source whose resistance has fallen as far as it can is where its law ends, not where it comes to rest.
std::optional<std::uint32_t> body_that_runs_away(const ThermalNetwork& network, std::span<const double> on,
                                                 const std::vector<double>& kelvin) {
    std::optional<std::uint32_t> found;
    for (std::size_t i = 0; i < network.sources.size(); ++i) {
        const HeatSource& source = network.sources[i];
        const bool rises = on[i] > 0.0 && source.power.si > 0.0 && source.coefficient.si < 0.0;
        if (!rises || source_power(source, {kelvin[source.body]}).by_temperature.si != 0.0) continue;
        if (!found || kelvin[source.body] > kelvin[*found]) found = source.body;
    }
    return found;
}

} // namespace

tl::expected<std::vector<Temperature>, NoSteadyState> steady_temperatures(const ThermalNetwork& network,
                                                                          std::span<const double> on) {
    using Why = NoSteadyState::Why;
    if (const auto floating = body_without_way(network))
        return tl::unexpected(NoSteadyState{Why::no_way_to_the_room, *floating});
    std::vector<double> kelvin(network.bodies.size(), network.ambient.si);
    HeatBalance balance(network, on);
    balance.evaluate(kelvin);
    if (balance.power() > 0.0) {
        constexpr double resistance_change = 0.1; // of the reference value, in one step
        constexpr double longest_step = 200.0;
        const double fall = steepest_fall(network, on);
        const double ambient = network.ambient.si;
        const bool settled = fall > 0.0
                                 ? warm_up(balance, ambient, std::min(longest_step, resistance_change / fall), kelvin)
                                 : settle(balance, ambient, kelvin);
        if (const auto body = body_that_runs_away(network, on, kelvin))
            return tl::unexpected(NoSteadyState{Why::runs_away, *body});
        if (!settled) return tl::unexpected(NoSteadyState{Why::runs_away, hottest(kelvin)});
    }
    std::vector<Temperature> result;
    result.reserve(kelvin.size());
    for (const double temperature : kelvin) result.push_back({temperature});
    return result;
}

} // namespace trivet
