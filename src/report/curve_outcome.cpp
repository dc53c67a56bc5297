#include "report/curve_text.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

std::string degrees(Temperature t, const CurveStyle& style) {
    return fmt::format("{:.1f} {}", in_celsius(t), style.utf8 ? "°C" : "C");
}

const CurveCutoff* first_that_opens(const HeatCurve& curve) {
    const CurveCutoff* first = nullptr;
    for (const CurveCutoff& cutoff : curve.cutoffs)
        if (cutoff.acts && cutoff.opened && (first == nullptr || *cutoff.opened < *first->opened)) first = &cutoff;
    return first;
}

std::string where_it_ends(const HeatCurve& curve, const CurveStyle& style) {
    const auto hottest = std::ranges::max_element(curve.bodies, {}, &CurveBody::highest_settled);
    if (hottest == curve.bodies.end()) return {};
    const std::string at = degrees(hottest->highest_settled, style);
    if (!curve.settled)
        return fmt::format("after three days {} has reached {} and nothing is settled.", hottest->name, at);
    return fmt::format("{} ends at {} (within half a kelvin after {}).", hottest->name, at, clock_text(*curve.settled));
}

std::string peak(const HeatCurve& curve, const CurveStyle& style) {
    const auto hottest = std::ranges::max_element(curve.bodies, {}, &CurveBody::highest);
    if (hottest == curve.bodies.end()) return {};
    return fmt::format("The hottest is {} with {}, {} after the start.", hottest->name,
                       degrees(hottest->highest, style), clock_text(hottest->highest_at));
}

std::string limits(const HeatCurve& curve, const CurveStyle& style) {
    std::vector<std::string> passed;
    bool any = false;
    for (const CurveBody& body : curve.bodies) {
        any = any || body.limit;
        if (!body.passes_limit) continue;
        passed.push_back(fmt::format("{} passes {} ({}) after {}", body.name, degrees(body.limit->highest, style),
                                     body.limit->what, clock_text(*body.passes_limit)));
    }
    if (!any) return " No limit is known.";
    return passed.empty() ? " Every known limit is kept." : fmt::format(" {}.", fmt::join(passed, "; "));
}

std::string runaway(const HeatCurve& curve, const CurveStyle& style) {
    std::string out = curve.stuck.empty() ? "A sensor has come off and feels the room: the heat is never told to stop. "
                                          : fmt::format("{} sticks: it never opens again. ", curve.stuck);
    const CurveCutoff* first = first_that_opens(curve);
    if (first == nullptr) {
        const bool guarded = std::ranges::any_of(curve.cutoffs, [](const CurveCutoff& c) { return c.missing.empty(); });
        if (!curve.with_cutoffs)
            out += "Without its cutoffs nothing stops it: ";
        else
            out += guarded ? "No cutoff gets hot enough to open, so nothing stops it: "
                           : "There is no cutoff that could stop it: ";
        return out + where_it_ends(curve, style);
    }
    if (!curve.still_heats)
        return out + fmt::format("{} opens after {} and ends the heating. ", first->name, clock_text(*first->opened)) +
               peak(curve, style);
    if (first->closes_again)
        return out +
               fmt::format("{} opens after {}, but closes again by itself, for ever. ", first->name,
                           clock_text(*first->opened)) +
               peak(curve, style);
    return out + fmt::format("{} opens after {}, but other heat stays on: ", first->name, clock_text(*first->opened)) +
           where_it_ends(curve, style);
}

bool rests(const HeatCurve& curve) {
    return std::ranges::all_of(curve.bodies, [&](const CurveBody& body) {
        return std::max(body.highest, body.highest_settled) - curve.ambient < TemperatureDifference{0.05};
    });
}

std::string normal(const HeatCurve& curve, const CurveStyle& style) {
    if (const CurveCutoff* first = first_that_opens(curve))
        return fmt::format("Though nothing has failed, {} opens after {}: its lowest trip temperature, {}, lies within "
                           "normal running. ",
                           first->name, clock_text(*first->opened), degrees(first->opens, style)) +
               peak(curve, style);
    std::string out;
    for (const CurveControl& control : curve.controls)
        if (!control.reached)
            out += fmt::format("The heat never brings {} to {}. ", control.body, degrees(control.setpoint, style));
    if (curve.controls.empty()) return "No control holds it: " + where_it_ends(curve, style);
    if (!curve.settled) return out + "It has not settled within three days. " + peak(curve, style);
    Time settled = *curve.settled;
    for (const CurveControl& control : curve.controls) settled = std::max(settled, control.reached.value_or(settled));
    return out + fmt::format("Settled after {}. ", clock_text(settled)) + peak(curve, style);
}

} // namespace

std::string curve_outcome(const HeatCurve& curve, const CurveStyle& style) {
    if (rests(curve) && !curve.controls.empty() && curve.stuck.empty())
        return "Nothing heats here: at this extreme the room is as warm as the setpoint, or warmer." +
               limits(curve, style);
    return (curve.runaway ? runaway(curve, style) : normal(curve, style)) + limits(curve, style);
}

std::string clock_text(Time time) {
    const auto seconds = std::llround(time.si);
    const auto minutes = std::llround(time.si / 60.0);
    const auto pair = [](long long whole, long long part, std::string_view of, std::string_view rest) {
        return part == 0 ? fmt::format("{} {}", whole, of) : fmt::format("{} {} {} {}", whole, of, part, rest);
    };
    if (time.si < 9.95) return fmt::format("{:.1f} s", time.si);
    if (seconds < 90) return fmt::format("{} s", seconds);
    if (seconds < 600) return pair(seconds / 60, seconds % 60, "min", "s");
    if (minutes < 90) return fmt::format("{} min", minutes);
    if (minutes < 48 * 60) return pair(minutes / 60, minutes % 60, "h", "min");
    const auto hours = std::llround(time.si / 3600.0);
    return pair(hours / 24, hours % 24, "d", "h");
}

} // namespace trivet
