#pragma once

#include "thermal/heat_curve.h"

#include <string>
#include <vector>

namespace trivet {

// A level that a picture of temperatures marks.
struct LevelMark {
    enum class Kind : std::uint8_t { setpoint, limit, opens } kind{};
    double celsius = 0.0;
    std::string text; // "limit of pot", without its temperature
};

// Setpoints, limits and trip temperatures of a curve, lowest first; equal ones of a kind once.
std::vector<LevelMark> level_marks(const HeatCurve& curve);

// Rows of the picture from the lowest up; every `rows_per_step` of them a round number.
struct TemperatureScale {
    double step = 10.0; // K between numbers
    int rows_per_step = 4;
    int first = 0; // the lowest row, counted from 0 °C
    int rows = 0;

    double row_of(double celsius) const { return celsius / step * rows_per_step - first; }
    std::optional<double> number_at(int row) const;
    bool shows(double celsius) const;
};

// Covers all curves, and the marks that are not so far above that the curves would be squeezed.
TemperatureScale temperature_scale(const HeatCurve& curve, const std::vector<LevelMark>& marks);

struct TimeScale {
    double end = 0.0;  // s
    double unit = 1.0; // s
    std::string unit_name;
    std::vector<double> numbers; // in units, from 0
};
TimeScale time_scale(double end, std::size_t columns);

} // namespace trivet
