#include "thermal/span_of_time.h"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

// What is missing to the level is negative, what is beyond it positive.
struct Distance {
    Stepper& stepper;
    const Watch& watch;

    double of(double value) const { return watch.rising ? value - watch.level : watch.level - value; }
    double operator()(double time) const { return of(stepper.at(time)[watch.component]); }
};

// The cubic through both ends lies within its four control points; how far it may be off the solution is far less than
// what they span.
bool may_be_reached(const TimeSpan& piece, const Watch& watch, const Distance& distance) {
    constexpr double margin = 0.25;
    const double third = (piece.to - piece.from) / 3.0;
    const std::size_t i = watch.component;
    const std::array points{piece.first[i], piece.first[i] + third * piece.first_rate[i],
                            piece.last[i] - third * piece.last_rate[i], piece.last[i]};
    const auto [lowest, highest] = std::ranges::minmax(points);
    const double slack = margin * (highest - lowest);
    return distance.of(watch.rising ? highest + slack : lowest - slack) >= 0.0;
}

// Where between two moments the distance is largest, by golden sections.
double nearest(const Distance& distance, double low, double high) {
    constexpr double golden = 0.6180339887498949;
    constexpr int sections = 40;
    double left = high - golden * (high - low);
    double right = low + golden * (high - low);
    double at_left = distance(left);
    double at_right = distance(right);
    for (int i = 0; i < sections && at_left < 0.0 && at_right < 0.0; ++i) {
        if (at_left > at_right) {
            high = right;
            right = left;
            at_right = at_left;
            left = high - golden * (high - low);
            at_left = distance(left);
        } else {
            low = left;
            left = right;
            at_left = at_right;
            right = low + golden * (high - low);
            at_right = distance(right);
        }
    }
    return at_left > at_right ? left : right;
}

double root(const Distance& distance, double low, double high, double length) {
    const auto close_enough = [length](double a, double b) {
        return b - a <= 1e-12 * length || b - a <= 4.0 * std::numeric_limits<double>::epsilon() * std::abs(b);
    };
    std::uintmax_t most_iterations = 100;
    const double at_low = distance(low);
    const double at_high = distance(high);
    if (at_low >= 0.0) return low;
    const auto [before, after] =
        boost::math::tools::toms748_solve(distance, low, high, at_low, at_high, close_enough, most_iterations);
    return distance(before) >= 0.0 ? before : after;
}

} // namespace

std::optional<double> first_reached(Stepper& stepper, const TimeSpan& piece, const Watch& watch) {
    constexpr int parts = 8;
    const Distance distance{stepper, watch};
    const double length = piece.to - piece.from;
    if (!may_be_reached(piece, watch, distance)) return std::nullopt;
    std::array<double, parts + 1> values;
    const auto time_of = [&](int part) { return part == parts ? piece.to : piece.from + length * part / parts; };
    values[0] = distance.of(piece.first[watch.component]);
    for (int part = 1; part <= parts; ++part) {
        const auto i = static_cast<std::size_t>(part);
        values[i] = distance(time_of(part));
        if (part > 1 && values[i - 1] > values[i - 2] && values[i - 1] > values[i]) {
            const double peak = nearest(distance, time_of(part - 2), time_of(part));
            if (distance(peak) >= 0.0) return root(distance, time_of(part - 2), peak, length);
        }
        if (values[i] >= 0.0) return root(distance, time_of(part - 1), time_of(part), length);
    }
    return std::nullopt;
}

std::optional<double> turning_time(const TimeSpan& piece, std::size_t component) {
    const double start = piece.first_rate[component];
    const double end = piece.last_rate[component];
    if (!((start > 0.0 && end < 0.0) || (start < 0.0 && end > 0.0))) return std::nullopt;
    const double length = piece.to - piece.from;
    const double slope = (piece.last[component] - piece.first[component]) / length;
    const double square = 3.0 * (start + end - 2.0 * slope);
    const double linear = 2.0 * (3.0 * slope - 2.0 * start - end);
    // start + linear s + square s² changes its sign once between 0 and 1.
    const double discriminant = std::sqrt(std::max(0.0, linear * linear - 4.0 * square * start));
    const double q = -0.5 * (linear + std::copysign(discriminant, linear));
    const double one = q != 0.0 ? start / q : 2.0;
    const double other = square != 0.0 ? q / square : 2.0;
    const double share = one >= 0.0 && one <= 1.0 ? one : other;
    return piece.from + length * std::clamp(share, 0.0, 1.0);
}

} // namespace trivet
