#include "thermal/cycle.h"
#include "thermal/steady.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double unbounded = std::numeric_limits<double>::infinity();

class MeanSearch {
public:
    MeanSearch(const ThermalNetwork& network, const RunSetup& setup)
        : network_(network)
        , setup_(setup)
        , on_(network.sources.size(), 1.0)
        , duty_(setup.controls.size(), 0.0) {
        for (std::size_t i = 0; i < duty_.size(); ++i)
            if (setup.controls[i].stuck_on) duty_[i] = 1.0;
    }

    // One control after the other until none changes any more; each cools what the others have to heat.
    MeanRunning find() {
        constexpr int most_rounds = 200;
        constexpr double small = 1e-7;
        const auto free = std::ranges::count_if(setup_.controls, [](const TwoPoint& one) { return !one.stuck_on; });
        double change = 1.0;
        for (int round = 0; round < most_rounds && change > small; ++round) {
            change = 0.0;
            for (std::size_t i = 0; i < duty_.size(); ++i) {
                if (setup_.controls[i].stuck_on) continue;
                const double before = duty_[i];
                settle(i);
                change = std::max(change, std::abs(duty_[i] - before));
            }
            if (free <= 1) break;
        }
        const auto temperatures = steady();
        if (temperatures) return {duty_, *temperatures};
        return {duty_, std::vector<Temperature>(network_.bodies.size(), Temperature{unbounded})};
    }

private:
    tl::expected<std::vector<Temperature>, NoSteadyState> steady() {
        for (std::size_t i = 0; i < on_.size(); ++i) {
            const auto& control = network_.sources[i].control;
            on_[i] = control && *control < duty_.size() ? duty_[*control] : 1.0;
        }
        return steady_temperatures(network_, on_);
    }

    // By how much a control feels more than the middle of its band. Infinite where it gets hotter and hotter.
    double excess(std::size_t control, double duty) {
        const TwoPoint& point = setup_.controls[control];
        const double middle = 0.5 * (point.on_below.si + point.off_above.si);
        if (point.feels.body == room) return network_.ambient.si - middle;
        duty_[control] = duty;
        const auto temperatures = steady();
        return temperatures ? (*temperatures)[point.feels.body].si - middle : unbounded;
    }

    // Regula falsi with halved weights (Illinois), as more power never cools; bisection beside what is infinite.
    void settle(std::size_t control) {
        constexpr double close = 1e-9; // K
        constexpr double narrow = 1e-13;
        double low = 0.0;
        double high = 1.0;
        double at_low = excess(control, low);
        double at_high = at_low >= 0.0 ? at_low : excess(control, high);
        if (at_low >= 0.0 || at_high <= 0.0) {
            duty_[control] = at_low >= 0.0 ? 0.0 : 1.0;
            return;
        }
        int side = 0;
        while (high - low > narrow) {
            const bool finite = std::isfinite(at_high);
            const double next = finite ? (low * at_high - high * at_low) / (at_high - at_low) : 0.5 * (low + high);
            const double here = excess(control, next);
            if (std::abs(here) <= close || next <= low || next >= high) return;
            const int moved = here < 0.0 ? -1 : 1;
            (moved < 0 ? low : high) = next;
            (moved < 0 ? at_low : at_high) = here;
            if (moved == side && finite) (moved < 0 ? at_high : at_low) *= 0.5;
            side = moved;
        }
        duty_[control] = low;
    }

    const ThermalNetwork& network_;
    const RunSetup& setup_;
    std::vector<double> on_;
    std::vector<double> duty_;
};

} // namespace

MeanRunning mean_running(const ThermalNetwork& network, const RunSetup& setup) {
    return MeanSearch(network, setup).find();
}

} // namespace trivet
