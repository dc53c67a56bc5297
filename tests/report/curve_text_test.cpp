#include "report/curve_text.h"

#include "report/curve_csv.h"
#include "report/curve_json.h"
#include "report/plot_scale.h"
#include "source/utf8.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

namespace trivet {
namespace {

// Two bodies that approach 80 °C and 50 °C from 20 °C, the first within seconds, and a heater that is on for the first
// half. Values are made up.
HeatCurve warming() {
    HeatCurve curve;
    curve.situation.text = "normal";
    curve.ambient = celsius(20.0);
    curve.step = {10.0};
    curve.settled = Time{2000.0};
    curve.heaters.push_back({"mat", {}});
    for (int i = 0; i <= 600; ++i) {
        const double time = 10.0 * i;
        curve.times.push_back({time});
        curve.temperatures.push_back(celsius(80.0 - 60.0 * std::exp(-time / 600.0)));
        curve.temperatures.push_back(celsius(50.0 - 30.0 * std::exp(-time / 2000.0)));
        curve.heaters[0].on.push_back(time < 3000.0 ? 1.0 : 0.0);
    }
    for (const auto* name : {"plate", "pot"}) {
        CurveBody body;
        body.name = name;
        body.start = curve.ambient;
        body.highest = body.end = body.highest_settled = celsius(name == std::string("plate") ? 80.0 : 50.0);
        body.highest_at = {6000.0};
        curve.bodies.push_back(body);
    }
    curve.bodies[0].limit = HeatLimit{{0}, celsius(100.0), "the limit of plate"};
    CurveControl control;
    control.name = "hold";
    control.body = "plate";
    control.setpoint = celsius(75.0);
    control.reached = Time{1491.0};
    control.duty = 0.5;
    curve.controls.push_back(control);
    CurveCutoff link;
    link.name = "link";
    link.body = "plate";
    link.opens = celsius(94.0);
    link.trip = {celsius(84.0), celsius(94.0)};
    curve.cutoffs.push_back(link);
    return curve;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

TEST(CurveText, KeepsToTheWidth) {
    for (const std::size_t width : {60U, 80U, 100U, 120U})
        for (const bool utf8 : {true, false}) {
            const std::string text = curve_text(warming(), "A plate", {.utf8 = utf8, .colour = false, .width = width});
            for (const std::string& line : lines_of(text))
                EXPECT_LE(code_points(line), width) << width << " columns: " << line;
        }
}

TEST(CurveText, PlainStyleIsAsciiAndColourOnlyOnDemand) {
    const std::string plain = curve_text(warming(), "A plate", {.utf8 = false, .colour = false, .width = 80});
    for (const char c : plain) EXPECT_TRUE(static_cast<unsigned char>(c) < 0x80U && (c >= ' ' || c == '\n'));
    const std::string coloured = curve_text(warming(), "A plate", {.utf8 = true, .colour = true, .width = 80});
    EXPECT_TRUE(has(coloured, "\x1b[36m"));
    EXPECT_EQ(std::ranges::count(coloured, '\x1b') % 2, 0) << "every colour is switched off again";
}

TEST(CurveText, SaysStartPeakEndLimitControlAndCutoff) {
    const std::string text = curve_text(warming(), "A plate", {});
    EXPECT_TRUE(has(text, "A plate: normal, hot extreme"));
    EXPECT_TRUE(has(text, "p   plate    20.0      80.0"));
    EXPECT_TRUE(has(text, "o   pot")) << "a letter of its own, as p is taken";
    EXPECT_TRUE(has(text, "hold: 75.0 °C at plate reached after 25 min; heat on 50 % of the time"));
    EXPECT_TRUE(has(text, "link: on plate, taken to open at 94.0 °C (of 84..94): does not open"));
    EXPECT_TRUE(has(text, "none stated"));
    EXPECT_TRUE(has(text, "A check on paper"));
}

// The row of a number on the axis and the rows of the curve agree: at the end the plate is at 80 °C.
TEST(CurvePlot, DrawsTheEndBesideItsNumber) {
    std::map<std::string, char> last;
    for (const std::string& line : lines_of(curve_plot(warming(), {.utf8 = false, .colour = false, .width = 80})))
        if (line.size() > 7) last[line.substr(0, 7)] = line.back();
    EXPECT_EQ(last["   80 |"], 'p');
}

TEST(CurvePlot, LabelsMarksInsideAndTellsOfThoseOutside) {
    HeatCurve curve = warming();
    const CurveStyle style{.utf8 = false, .colour = false, .width = 80};
    std::string plot = curve_plot(curve, style);
    EXPECT_TRUE(has(plot, " setpoint 75 C "));
    EXPECT_TRUE(has(plot, " limit of plate 100 C "));
    EXPECT_TRUE(has(plot, " link opens 94 C "));
    curve.bodies[0].limit->highest = celsius(300.0);
    plot = curve_plot(curve, style);
    EXPECT_TRUE(has(lines_of(plot).front(), "above: limit of plate 300 C"));
}

TEST(CurvePlot, ShowsWhenTheHeatIsOn) {
    for (const std::string& line : lines_of(curve_plot(warming(), {.utf8 = false, .colour = false, .width = 80}))) {
        if (!line.starts_with("  mat |")) continue;
        const auto on = std::ranges::count(line, '#');
        EXPECT_NEAR(static_cast<double>(on), 36.0, 1.5) << "half of 72 columns";
        return;
    }
    ADD_FAILURE() << "no strip for the mat";
}

TEST(CurvePlot, DrawsFastSwingsAsABand) {
    HeatCurve curve = warming();
    for (std::size_t i = 0; i < curve.times.size(); ++i) curve.temperatures[2 * i] = celsius(i % 4 < 2 ? 70.0 : 80.0);
    EXPECT_TRUE(has(curve_plot(curve, {}), "░░░░░░"));
    EXPECT_FALSE(has(curve_plot(warming(), {.utf8 = false}), ":::"));
}

TEST(PlotScale, NumbersAreRoundAndRowsFew) {
    struct Case {
        double lowest, highest;
    };
    for (const Case& c : {Case{20, 21}, Case{-10, 53.6}, Case{5, 26}, Case{20, 1200}, Case{-40, -39}, Case{24.9, 71}}) {
        HeatCurve curve = warming();
        curve.controls.clear();
        curve.cutoffs.clear();
        curve.ambient = celsius(c.lowest);
        curve.temperatures = {celsius(c.lowest), celsius(c.highest)};
        for (CurveBody& body : curve.bodies) body.limit.reset();
        const TemperatureScale scale = temperature_scale(curve, {});
        EXPECT_LE(scale.rows, 27) << c.lowest << ".." << c.highest;
        EXPECT_GE(scale.rows, 12) << c.lowest << ".." << c.highest;
        EXPECT_TRUE(scale.shows(c.lowest) && scale.shows(c.highest)) << c.lowest << ".." << c.highest;
        int numbers = 0;
        for (int row = 0; row < scale.rows; ++row)
            if (const auto number = scale.number_at(row)) {
                ++numbers;
                EXPECT_NEAR(scale.row_of(*number), row, 1e-9);
            }
        EXPECT_GE(numbers, 2) << c.lowest << ".." << c.highest;
    }
}

TEST(PlotScale, TimeIsInFittingUnits) {
    EXPECT_EQ(time_scale(120.0, 80).unit_name, "s");
    EXPECT_EQ(time_scale(3600.0, 80).unit_name, "min");
    EXPECT_EQ(time_scale(86400.0, 80).unit_name, "h");
    EXPECT_EQ(time_scale(86400.0 * 7, 80).unit_name, "days");
    for (const double end : {30.0, 600.0, 3600.0, 5400.0, 86400.0, 259200.0})
        for (const std::size_t columns : {50U, 110U}) {
            const TimeScale scale = time_scale(end, columns);
            EXPECT_GE(scale.numbers.size(), 3U) << end;
            EXPECT_LE(scale.numbers.size(), columns / 8) << end;
        }
}

TEST(ClockText, SaysTimesAsPeopleDo) {
    const std::vector<std::pair<double, std::string>> cases{
        {0.04, "0.0 s"},   {4.26, "4.3 s"},        {45.4, "45 s"},  {90.0, "1 min 30 s"}, {240.0, "4 min"},
        {719.0, "12 min"}, {5520.0, "1 h 32 min"}, {7200.0, "2 h"}, {183600.0, "2 d 3 h"}};
    for (const auto& [seconds, text] : cases) EXPECT_EQ(clock_text({seconds}), text);
}

HeatCurve stuck() {
    HeatCurve curve = warming();
    curve.stuck = "relay";
    curve.runaway = true;
    curve.still_heats = true;
    curve.controls[0].stuck = true;
    return curve;
}

TEST(CurveOutcome, SaysWhatStopsTheHeatOrThatNothingDoes) {
    HeatCurve curve = stuck();
    EXPECT_TRUE(has(curve_outcome(curve, {}), "No cutoff gets hot enough to open, so nothing stops it: plate ends at "
                                              "80.0 °C (within half a kelvin after 33 min)"));
    curve.with_cutoffs = false;
    EXPECT_TRUE(has(curve_outcome(curve, {}), "Without its cutoffs nothing stops it"));
    curve = stuck();
    curve.cutoffs.clear();
    EXPECT_TRUE(has(curve_outcome(curve, {}), "There is no cutoff that could stop it"));
    curve = stuck();
    curve.settled.reset();
    EXPECT_TRUE(has(curve_outcome(curve, {}), "nothing is settled"));
    curve = stuck();
    curve.cutoffs[0].opened = Time{300.0};
    EXPECT_TRUE(has(curve_outcome(curve, {}), "link opens after 5 min, but other heat stays on"));
    curve.still_heats = false;
    EXPECT_TRUE(has(curve_outcome(curve, {}), "link opens after 5 min and ends the heating. The hottest is plate with "
                                              "80.0 °C, 1 h 40 min after the start. Every known limit is kept."));
    curve.bodies[0].passes_limit = Time{60.0};
    EXPECT_TRUE(has(curve_outcome(curve, {}), "plate passes 100.0 °C (the limit of plate) after 60 s"));
}

TEST(CurveOutcome, WarnsOfACutoffThatOpensInNormalRunning) {
    HeatCurve curve = warming();
    curve.cutoffs[0].opened = Time{300.0};
    EXPECT_TRUE(has(curve_outcome(curve, {}), "Though nothing has failed, link opens after 5 min"));
    curve = warming();
    curve.controls[0].reached.reset();
    EXPECT_TRUE(has(curve_outcome(curve, {}), "The heat never brings plate to 75.0 °C"));
}

TEST(CurveCsv, HasCommentsAHeaderAndOneRowPerMoment) {
    const auto lines = lines_of(curve_csv(warming(), "A plate\nof mine"));
    ASSERT_EQ(lines.size(), 3U + 601U);
    EXPECT_EQ(lines[0], "# A plate of mine: normal, hot extreme");
    EXPECT_EQ(lines[2], "time_s,ambient_C,plate_C,pot_C,mat_on");
    EXPECT_EQ(lines[3], "0.0,20.000,20.000,20.000,1");
    EXPECT_EQ(lines.back(), "6000.0,20.000,79.997,48.506,0");
    HeatCurve curve = warming();
    curve.bodies[0].name = "plate, \"old\"";
    EXPECT_EQ(lines_of(curve_csv(curve, "A plate"))[2], "time_s,ambient_C,\"plate, \"\"old\"\"_C\",pot_C,mat_on");
}

TEST(CurveJson, NamesUnitsAndLeavesUnknownTimesNull) {
    const std::string json = curve_json(warming(), "A plate");
    for (const auto* part : {R"("extreme":"hot")", R"("stuck":null)", R"("step_s":10.0)", R"("limit_C":100.0)",
                             R"("passes_limit_s":null)", R"("reached_s":1491.0)", R"("opens_s":null)"})
        EXPECT_TRUE(has(json, part)) << part;
    EXPECT_EQ(json.back(), '\n');
}

} // namespace
} // namespace trivet
