#include "report/plot_scale.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace trivet {

namespace {

constexpr double usual_rows = 20.0;

struct Reach {
    double lowest = 0.0;
    double highest = 0.0;
};

Reach reach_of(const HeatCurve& curve) {
    Reach reach{in_celsius(curve.ambient), in_celsius(curve.ambient)};
    for (const Temperature t : curve.temperatures) {
        reach.lowest = std::min(reach.lowest, in_celsius(t));
        reach.highest = std::max(reach.highest, in_celsius(t));
    }
    return reach;
}

// A setpoint is what a builder looks for, also when it is never reached.
bool is_worth_the_room(const LevelMark& mark, Reach reach) {
    const double most = mark.kind == LevelMark::Kind::setpoint ? 3.0 : 1.5;
    const double range = reach.highest - reach.lowest;
    return mark.celsius >= reach.lowest - 0.2 * range && mark.celsius - reach.lowest <= most * range;
}

double round_step(double range, double pieces, std::span<const double> steps) {
    const auto found = std::ranges::find_if(steps, [&](double step) { return range / step <= pieces; });
    return found == steps.end() ? range / pieces : *found;
}

} // namespace

std::vector<LevelMark> level_marks(const HeatCurve& curve) {
    std::vector<LevelMark> marks;
    const auto add = [&](LevelMark::Kind kind, Temperature at, std::string text) {
        const double celsius = in_celsius(at);
        for (LevelMark& mark : marks) {
            if (mark.kind != kind || std::abs(mark.celsius - celsius) > 0.05) continue;
            mark.text += ", " + text;
            return;
        }
        marks.push_back({kind, celsius, std::move(text)});
    };
    const bool several = curve.controls.size() > 1;
    for (const CurveControl& control : curve.controls)
        add(LevelMark::Kind::setpoint, control.setpoint, several ? "setpoint of " + control.name : "setpoint");
    for (const CurveCutoff& cutoff : curve.cutoffs)
        if (cutoff.acts && cutoff.missing.empty()) add(LevelMark::Kind::opens, cutoff.opens, cutoff.name + " opens");
    for (const CurveBody& body : curve.bodies)
        if (body.limit)
            add(LevelMark::Kind::limit, body.limit->highest,
                body.limit->what.starts_with("the ") ? body.limit->what.substr(4) : body.limit->what);
    std::ranges::stable_sort(marks, {}, &LevelMark::celsius);
    return marks;
}

std::optional<double> TemperatureScale::number_at(int row) const {
    if ((row + first) % rows_per_step != 0) return std::nullopt;
    return step * (row + first) / rows_per_step;
}

bool TemperatureScale::shows(double celsius) const {
    const double row = row_of(celsius);
    return row >= -0.5 && row < rows - 0.5;
}

TemperatureScale temperature_scale(const HeatCurve& curve, const std::vector<LevelMark>& marks) {
    constexpr std::array steps{0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0};
    constexpr double most_steps = 6.0;
    const Reach curves = reach_of(curve);
    Reach reach = curves;
    for (const LevelMark& mark : marks)
        if (is_worth_the_room(mark, curves)) {
            reach.highest = std::max(reach.highest, mark.celsius);
            reach.lowest = std::min(reach.lowest, mark.celsius);
        }
    reach.highest = std::max(reach.highest, reach.lowest + 5.0);
    const double range = reach.highest - reach.lowest;
    TemperatureScale scale;
    scale.step = round_step(range, most_steps, steps);
    scale.rows_per_step = std::clamp(static_cast<int>(std::lround(usual_rows * scale.step / range)), 3, 10);
    const double rows_per_kelvin = scale.rows_per_step / scale.step;
    scale.first = static_cast<int>(std::floor(reach.lowest * rows_per_kelvin + 0.4));
    scale.rows = static_cast<int>(std::ceil(reach.highest * rows_per_kelvin - 0.4)) - scale.first + 1;
    return scale;
}

TimeScale time_scale(double end, std::size_t columns) {
    constexpr std::array of_ten{0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0};
    constexpr std::array of_clock{0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 60.0};
    constexpr std::array of_day{0.5, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 24.0};
    constexpr double columns_per_number = 10.0;
    TimeScale scale{.end = end, .unit = 1.0, .unit_name = "s", .numbers = {}};
    if (end > 180.0) scale = {end, 60.0, "min", {}};
    if (end > 3.0 * 3600.0) scale = {end, 3600.0, "h", {}};
    if (end > 3.0 * 86400.0) scale = {end, 86400.0, "days", {}};
    std::span<const double> steps = of_ten;
    if (scale.unit < 3600.0) steps = of_clock;
    if (scale.unit == 3600.0) steps = of_day;
    const double pieces = std::max(2.0, std::floor(static_cast<double>(columns) / columns_per_number));
    const double step = round_step(end / scale.unit, pieces, steps);
    for (double number = 0.0; number <= end / scale.unit * (1.0 + 1e-9); number += step)
        scale.numbers.push_back(number);
    return scale;
}

} // namespace trivet
