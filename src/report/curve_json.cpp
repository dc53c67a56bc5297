#include "report/curve_json.h"

#include "report/curve_text.h"
#include "report/wording.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace trivet {

namespace {

using Json = nlohmann::ordered_json;

double thousandths(double value) { return std::round(value * 1000.0) / 1000.0; }
double degrees(Temperature t) { return thousandths(in_celsius(t)); }
Json seconds(const std::optional<Time>& time) { return time ? Json(thousandths(time->si)) : Json(nullptr); }

Json body_json(const HeatCurve& curve, std::size_t index) {
    const CurveBody& body = curve.bodies[index];
    Json out{{"name", body.name},
             {"start_C", degrees(body.start)},
             {"highest_C", degrees(body.highest)},
             {"highest_at_s", thousandths(body.highest_at.si)},
             {"end_C", degrees(body.end)}};
    out["limit_C"] = body.limit ? Json(degrees(body.limit->highest)) : Json(nullptr);
    if (body.limit) out["limit_of"] = body.limit->what;
    out["passes_limit_s"] = seconds(body.passes_limit);
    Json values = Json::array();
    for (std::size_t t = 0; t < curve.times.size(); ++t)
        values.push_back(degrees(curve.temperatures[t * curve.bodies.size() + index]));
    out["temperatures_C"] = std::move(values);
    return out;
}

Json control_json(const CurveControl& control) {
    return {{"name", control.name},
            {"senses", control.body},
            {"setpoint_C", degrees(control.setpoint)},
            {"reached_s", seconds(control.reached)},
            {"duty", thousandths(control.duty)},
            {"cycle_s", seconds(control.cycle)},
            {"holds", !control.stuck && !control.feels_room}};
}

Json cutoff_json(const CurveCutoff& cutoff) {
    Json out{{"name", cutoff.name}, {"on", cutoff.body}, {"acts", cutoff.acts && cutoff.missing.empty()}};
    if (!cutoff.missing.empty()) return out;
    out["opens_C"] = degrees(cutoff.opens);
    out["opens_s"] = seconds(cutoff.opened);
    out["closes_again"] = cutoff.closes_again;
    return out;
}

} // namespace

std::string curve_json(const HeatCurve& curve, std::string_view title) {
    constexpr std::array<std::string_view, 3> extremes{"hot", "hot-tight", "cold"};
    Json out{{"trivet", 1},
             {"title", title},
             {"situation", curve.situation.text},
             {"extreme", extremes[static_cast<std::size_t>(curve.extreme)]}};
    out["stuck"] = curve.stuck.empty() ? Json(nullptr) : Json(curve.stuck);
    out["with_cutoffs"] = curve.with_cutoffs;
    out["outcome"] = curve_outcome(curve, {});
    out["ambient_C"] = degrees(curve.ambient);
    out["settled_s"] = seconds(curve.settled);
    out["step_s"] = curve.step.si;
    Json times = Json::array();
    for (const Time time : curve.times) times.push_back(thousandths(time.si));
    out["times_s"] = std::move(times);
    for (const auto* list : {"bodies", "controls", "cutoffs", "heaters"}) out[list] = Json::array();
    for (std::size_t i = 0; i < curve.bodies.size(); ++i) out["bodies"].push_back(body_json(curve, i));
    for (const CurveControl& control : curve.controls) out["controls"].push_back(control_json(control));
    for (const CurveCutoff& cutoff : curve.cutoffs) out["cutoffs"].push_back(cutoff_json(cutoff));
    for (const CurveHeater& heater : curve.heaters) {
        Json on = Json::array();
        for (const double share : heater.on) on.push_back(thousandths(share));
        out["heaters"].push_back({{"name", heater.name}, {"on", std::move(on)}});
    }
    out["caution"] = caution;
    return out.dump() + "\n";
}

} // namespace trivet
