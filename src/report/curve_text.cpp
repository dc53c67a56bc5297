#include "report/curve_text.h"

#include "report/wording.h"
#include "source/utf8.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <vector>

namespace trivet {

namespace {

constexpr std::array<std::string_view, 3> extreme_names{"hot extreme", "hot extreme, tight", "cold extreme"};

std::string extreme_sentence(const HeatCurve& curve, const CurveStyle& style) {
    const std::string at = fmt::format("{:g} {}", in_celsius(curve.ambient), style.utf8 ? "°C" : "C");
    if (curve.extreme == HeatExtreme::cold)
        return fmt::format("Cold extreme: room and start at {}, least heating, best cooling, most to warm up.", at);
    std::string out =
        fmt::format("Hot extreme: room and start at {}, most heating, poorest cooling, least to warm up", at);
    if (curve.extreme == HeatExtreme::hot_tight) return out + "; bodies pass heat on to each other at their best.";
    if (curve.inner_paths_vary) out += "; bodies pass heat on at their poorest (--extreme hot-tight: at their best)";
    return out + ".";
}

std::string heading(const HeatCurve& curve, std::string_view title, const CurveStyle& style) {
    std::string what = curve.situation.text;
    if (!curve.stuck.empty())
        what =
            (curve.situation.kind == Situation::Kind::normal ? std::string{} : what + ", ") + curve.stuck + " stuck on";
    if (!curve.with_cutoffs) what += ", without cutoffs";
    return paragraph("", fmt::format("{}: {}, {}", title, what, extreme_names[static_cast<std::size_t>(curve.extreme)]),
                     0, style.width);
}

using Row = std::vector<std::string>;

std::vector<std::size_t> widths_of(const std::vector<Row>& rows) {
    std::vector<std::size_t> widths(rows.front().size(), 0);
    for (const Row& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], code_points(row[i]));
    return widths;
}

// The last column goes below where it does not fit. The first cell of every row but the header is painted.
std::string aligned(const std::vector<Row>& rows, const CurveStyle& style) {
    const std::vector<std::size_t> widths = widths_of(rows);
    const std::size_t last = widths.size() - 1;
    std::size_t total = 0;
    for (const std::size_t width : widths) total += width + 3;
    const bool breaks = total > style.width + 1;
    std::string out;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::string line;
        for (std::size_t i = 0; i < last; ++i) {
            const std::string& text = rows[r][i];
            const std::string pad(widths[i] - code_points(text), ' ');
            line += i == 0 ? "  " : "   ";
            if (i == 0 && r > 0)
                line += paint_of(r - 1, style) + text + unpainted(style);
            else
                line += i < 2 ? text + pad : pad + text;
        }
        if (!breaks) line += "   " + rows[r][last];
        if (breaks && r > 0) line += "\n      " + rows.front()[last] + " " + rows[r][last];
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    return out;
}

std::string limit_cell(const CurveBody& body) {
    if (!body.limit) return "none stated";
    std::string out = fmt::format("{:.1f}", in_celsius(body.limit->highest));
    if (body.passes_limit) out += fmt::format(", passed after {}", clock_text(*body.passes_limit));
    if (body.limit->what != "the limit of " + body.name) out += fmt::format(" ({})", body.limit->what);
    return out;
}

std::string bodies(const HeatCurve& curve, const CurveStyle& style) {
    const std::vector<char> letters = curve_letters(curve);
    std::vector<Row> rows{
        {" ", fmt::format("in {}", style.utf8 ? "°C" : "C"), "start", "highest", "after", "at the end", "limit"}};
    for (std::size_t i = 0; i < curve.bodies.size(); ++i) {
        const CurveBody& body = curve.bodies[i];
        rows.push_back({std::string(1, letters[i]), body.name, fmt::format("{:.1f}", in_celsius(body.start)),
                        fmt::format("{:.1f}", in_celsius(body.highest)), clock_text(body.highest_at),
                        fmt::format("{:.1f}", in_celsius(body.end)), limit_cell(body)});
    }
    return aligned(rows, style);
}

std::string control_line(const CurveControl& control, const CurveStyle& style) {
    const char* unit = style.utf8 ? "°C" : "C";
    std::string out = fmt::format("{:.1f} {}", in_celsius(control.setpoint), unit);
    if (control.body.empty()) return out + ", but what it senses is not described";
    out += " at " + control.body;
    if (control.reached && control.reached->si <= 0.0)
        out += " (the room is as warm already)";
    else
        out += control.reached ? " reached after " + clock_text(*control.reached) : " never reached";
    if (control.stuck) return out + ", and not held: its switch is stuck";
    if (control.feels_room) return out + ", and not held: its sensor feels the room";
    out += fmt::format("; heat on {:.0f} % of the time", 100.0 * control.duty);
    if (control.proportional) return out + "; followed as if dosed finely enough to hold it within half a kelvin";
    return out + (control.cycle ? fmt::format(", a cycle every {}", clock_text(*control.cycle)) : std::string{});
}

std::string cutoff_line(const CurveCutoff& cutoff, const HeatCurve& curve, const CurveStyle& style) {
    if (!curve.with_cutoffs) return "left out";
    if (!cutoff.missing.empty())
        return fmt::format("not reckoned with: state its {}", fmt::join(cutoff.missing, " and its "));
    const char* unit = style.utf8 ? "°C" : "C";
    std::string out = fmt::format("on {}, taken to open at {:.1f} {}", cutoff.body, in_celsius(cutoff.opens), unit);
    if (!cutoff.trip.is_point())
        out += fmt::format(" (of {:g}..{:g})", in_celsius(cutoff.trip.lo), in_celsius(cutoff.trip.hi));
    out += cutoff.opened ? ": opens after " + clock_text(*cutoff.opened) : ": does not open";
    if (!cutoff.acts) return out + ", but stops no heat on its own (trivet check says why)";
    if (cutoff.closes_again && cutoff.openings > 1)
        out += fmt::format(" and {} times in the time shown", cutoff.openings);
    return out;
}

std::string lines(const HeatCurve& curve, const CurveStyle& style) {
    std::string out;
    const auto indented = [&](const std::string& name, const std::string& text) {
        out += paragraph(fmt::format("{}: ", name), text, 2, style.width);
    };
    for (const CurveControl& control : curve.controls) indented(control.name, control_line(control, style));
    for (const CurveCutoff& cutoff : curve.cutoffs) indented(cutoff.name, cutoff_line(cutoff, curve, style));
    return out.empty() ? out : "\n" + out;
}

} // namespace

std::string curve_text(const HeatCurve& curve, std::string_view title, const CurveStyle& style) {
    std::string out = heading(curve, title, style);
    out += paragraph("", extreme_sentence(curve, style), 0, style.width);
    out += "\n" + paragraph("", curve_outcome(curve, style), 0, style.width) + "\n";
    out += curve_plot(curve, style) + "\n";
    out += bodies(curve, style) + lines(curve, style);
    if (curve.gave_up)
        out += "\n" + paragraph("",
                                fmt::format("The curves end at {}: something switches too often to follow it further.",
                                            clock_text(*curve.gave_up)),
                                0, style.width);
    return out + "\n" + paragraph("", caution, 0, style.width);
}

} // namespace trivet
