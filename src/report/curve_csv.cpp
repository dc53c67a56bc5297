#include "report/curve_csv.h"

#include "report/csv_cell.h"

#include <fmt/format.h>

#include <cmath>
#include <iterator>

namespace trivet {

namespace {

std::string one_line(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c == '\n' || c == '\r') c = ' ';
    return out;
}

} // namespace

std::string curve_csv(const HeatCurve& curve, std::string_view title) {
    std::string out = fmt::format("# {}: {}, {} extreme{}{}\n", one_line(title), curve.situation.text,
                                  curve.extreme == HeatExtreme::cold  ? "cold"
                                  : curve.extreme == HeatExtreme::hot ? "hot"
                                                                      : "hot, tight",
                                  curve.stuck.empty() ? "" : fmt::format(", {} stuck on", curve.stuck),
                                  curve.with_cutoffs ? "" : ", without cutoffs");
    out += "# Predicted by trivet thermal; temperatures in degrees Celsius; _on: share of time until the next row.\n";
    out += "time_s,ambient_C";
    for (const CurveBody& body : curve.bodies) out += "," + csv_cell(body.name + "_C");
    for (const CurveHeater& heater : curve.heaters) out += "," + csv_cell(heater.name + "_on");
    out += "\n";
    auto to = std::back_inserter(out);
    const std::size_t bodies = curve.bodies.size();
    for (std::size_t t = 0; t < curve.times.size(); ++t) {
        fmt::format_to(to, "{:.1f},{:.3f}", curve.times[t].si, in_celsius(curve.ambient));
        for (std::size_t i = 0; i < bodies; ++i)
            fmt::format_to(to, ",{:.3f}", in_celsius(curve.temperatures[t * bodies + i]));
        for (const CurveHeater& heater : curve.heaters)
            fmt::format_to(to, ",{:g}", std::round(heater.on[t] * 1000.0) / 1000.0);
        out += "\n";
    }
    return out;
}

} // namespace trivet
