#include "catalog/sensor_curve.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace trivet {

namespace {

constexpr double a = 3.9083e-3; // per °C
constexpr double b = -5.775e-7;
constexpr double c = -4.183e-12;

double ratio_at(double t) {
    const double warm = 1.0 + t * (a + t * b);
    return t < 0.0 ? warm + c * (t - 100.0) * t * t * t : warm;
}

double slope_at(double t) {
    const double warm = a + 2.0 * b * t;
    return t < 0.0 ? warm + c * t * t * (4.0 * t - 300.0) : warm;
}

struct Span {
    double lo = std::numeric_limits<double>::infinity();
    double hi = -std::numeric_limits<double>::infinity();

    void add(double value) {
        lo = std::min(lo, value);
        hi = std::max(hi, value);
    }
};

template <Dimension D> std::array<Quantity<D>, 2> ends_of(const Range<D>& range) { return {range.lo, range.hi}; }

// Calls with the two ends of each tolerance: the curves run one way in every one of them, so the extremes are there.
// Platinum has no B, and is called with 0 K.
template <class Visit> bool at_all_ends(const ThermistorElement& sensor, Visit visit) {
    const bool ntc = sensor.curve == SensorCurve::ntc;
    if (!sensor.resistance || !sensor.reference || (ntc && !sensor.beta)) return false;
    const auto no_b = exactly(TemperatureDifference{0.0});
    for (const Resistance resistance : ends_of(sensor.resistance->range))
        for (const Temperature reference : ends_of(sensor.reference->range))
            for (const TemperatureDifference beta : ends_of(ntc ? sensor.beta->range : no_b))
                if (!visit(resistance, reference, beta)) return false;
    return true;
}

} // namespace

std::optional<double> platinum_ratio(Temperature temperature) {
    if (!platinum_range.contains(temperature)) return std::nullopt;
    return ratio_at(in_celsius(temperature));
}

std::optional<Temperature> platinum_temperature(double ratio) {
    const double coldest = in_celsius(platinum_range.lo);
    const double hottest = in_celsius(platinum_range.hi);
    if (!(ratio >= ratio_at(coldest) && ratio <= ratio_at(hottest))) return std::nullopt;
    // The curve bends the same way all along, so Newton's method closes in from one side.
    double t = (ratio - 1.0) / a;
    for (int step = 0; step < 50; ++step) {
        const double change = (ratio_at(t) - ratio) / slope_at(t);
        t -= change;
        if (std::abs(change) < 1e-9) break;
    }
    return celsius(std::clamp(t, coldest, hottest));
}

double ntc_ratio(TemperatureDifference beta, Temperature reference, Temperature temperature) {
    return std::exp(beta.si * (1.0 / temperature.si - 1.0 / reference.si));
}

std::optional<Temperature> ntc_temperature(TemperatureDifference beta, Temperature reference, double ratio) {
    if (!(ratio > 0.0 && beta.si > 0.0)) return std::nullopt;
    const double inverse = 1.0 / reference.si + std::log(ratio) / beta.si;
    if (!(inverse > 0.0)) return std::nullopt;
    return Temperature{1.0 / inverse};
}

std::optional<Range<dim::temperature>> known_range(const ThermistorElement& sensor) {
    if (sensor.curve == SensorCurve::ptc) return std::nullopt;
    if (sensor.curve == SensorCurve::ntc) return sensor.range ? std::optional(sensor.range->range) : std::nullopt;
    if (!sensor.range) return platinum_range;
    const Range<dim::temperature> stated = sensor.range->range;
    const Range<dim::temperature> both{std::max(stated.lo, platinum_range.lo), std::min(stated.hi, platinum_range.hi)};
    return both.lo <= both.hi ? std::optional(both) : std::nullopt;
}

std::optional<Range<dim::resistance>> sensor_resistance(const ThermistorElement& sensor, Range<dim::temperature> at) {
    const auto known = known_range(sensor);
    if (!known || !known->contains(at.lo) || !known->contains(at.hi)) return std::nullopt;
    Span span;
    const bool described =
        at_all_ends(sensor, [&](Resistance stated, Temperature reference, TemperatureDifference beta) {
            for (const Temperature temperature : ends_of(at)) {
                if (sensor.curve == SensorCurve::ntc) {
                    span.add(stated.si * ntc_ratio(beta, reference, temperature));
                    continue;
                }
                const auto there = platinum_ratio(reference);
                if (!there) return false;
                span.add(stated.si * *platinum_ratio(temperature) / *there);
            }
            return true;
        });
    if (!described) return std::nullopt;
    return Range<dim::resistance>{{span.lo}, {span.hi}};
}

std::optional<Range<dim::temperature>> sensor_temperature(const ThermistorElement& sensor, Resistance measured) {
    const auto known = known_range(sensor);
    if (!known || !(measured.si > 0.0)) return std::nullopt;
    // Each corner's temperature, or the end of the range beyond which it lies.
    Span span;
    const bool described =
        at_all_ends(sensor, [&](Resistance stated, Temperature reference, TemperatureDifference beta) {
            if (sensor.curve == SensorCurve::ntc) {
                const auto found = ntc_temperature(beta, reference, measured.si / stated.si);
                span.add(found ? found->si : std::numeric_limits<double>::infinity());
                return true;
            }
            const auto there = platinum_ratio(reference);
            if (!there) return false;
            const double ratio = measured.si / stated.si * *there;
            const auto found = platinum_temperature(ratio);
            span.add(found ? found->si : (ratio < 1.0 ? 0.0 : std::numeric_limits<double>::infinity()));
            return true;
        });
    if (!described || span.hi < known->lo.si || span.lo > known->hi.si) return std::nullopt;
    return Range<dim::temperature>{std::max(known->lo, {span.lo}), std::min(known->hi, {span.hi})};
}

} // namespace trivet
