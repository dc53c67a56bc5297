#include "assess/assess.h"
#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "cli/terminal.h"
#include "report/curve_csv.h"
#include "report/curve_json.h"
#include "report/curve_text.h"
#include "source/suggest.h"
#include "units/parse.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {

namespace {

// Why no curve can be drawn, or nothing.
std::string cannot_answer(const Design& design, const HeatInputs& inputs) {
    if (design.bodies.empty())
        return "the design describes no bodies, so nothing is known about its heat; add a [[body]] and a [[heat_path]] "
               "(docs/format.md, Bodies and heat paths)";
    std::vector<std::string> missing = missing_for_steady(design, inputs);
    const auto add = [&](const std::vector<std::string>& more) {
        for (const std::string& item : more)
            if (std::ranges::find(missing, item) == missing.end()) missing.push_back(item);
    };
    add(missing_for_time(design));
    for (const HeatControl& control : inputs.controls) add(control.missing);
    if (missing.empty()) return {};
    return fmt::format("the temperatures cannot be followed without: {}", fmt::join(missing, "; "));
}

// What can stick: whatever a control drives, and thermostats that are controls.
std::vector<std::string_view> switches(const Design& design, const HeatInputs& inputs) {
    std::vector<std::string_view> names;
    for (std::uint32_t i = 0; i < design.parts.size(); ++i)
        if (!controls_of_switch(design, inputs, {i}).empty()) names.push_back(design.parts[i].name);
    return names;
}

std::string listed(const std::vector<std::string_view>& names) { return fmt::format("'{}'", fmt::join(names, "', '")); }

std::string choose_stuck(const Design& design, const HeatInputs& inputs, const std::string& name, CurveChoice& choice) {
    if (name.empty()) return {};
    const auto part = std::ranges::find(design.parts, name, &PartUse::name);
    const std::vector<std::string_view> known = switches(design, inputs);
    if (known.empty())
        return "nothing in this design can stick: no [[control]] drives a switch and no thermostat regulates a heater";
    if (std::ranges::find(known, name) == known.end())
        return fmt::format("'{}' {}; what can stick is {}", name,
                           part == design.parts.end() ? "is no part of this design"
                                                      : "is driven by no [[control]] and is no regulating thermostat",
                           listed(known));
    choice.stuck = PartId{static_cast<std::uint32_t>(part - design.parts.begin())};
    return {};
}

std::string choose_situation(const Design& design, const HeatInputs& inputs, const std::string& text,
                             CurveChoice& choice) {
    const std::vector<Situation> all = situations(design, inputs);
    const auto found = std::ranges::find(all, text, &Situation::text);
    if (found != all.end()) {
        choice.situation = *found;
        return {};
    }
    std::vector<std::string_view> names;
    for (const Situation& situation : all) names.push_back(situation.text);
    return fmt::format("this design has no situation '{}'; it has {}", text, listed(names));
}

std::string choose_span(const std::string& text, CurveChoice& choice) {
    constexpr double longest = 30.0 * 86400.0;
    if (text.empty()) return {};
    const auto read = parse_quantity(text, dim::time);
    if (!read) return fmt::format("--for '{}': {}; write for example --for 2h", text, read.error().message);
    if (read->si < 1.0 || read->si > longest)
        return fmt::format("--for '{}' is no time that can be shown; write something from 1 s to 720 h", text);
    choice.span = Time{read->si};
    return {};
}

// Hot, unless nothing would heat there.
HeatExtreme usual_extreme(const Design& design, const HeatInputs& inputs, const ThermalArguments& arguments) {
    const bool rests = arguments.stuck.empty() && !inputs.controls.empty() &&
                       std::ranges::all_of(inputs.controls, [&](const HeatControl& control) {
                           return control.setpoint.hi <= design.ambient.value.hi;
                       });
    return rests ? HeatExtreme::cold : HeatExtreme::hot;
}

// Fills `choice` from the words of the command line, or says what is wrong with them.
std::string choose(const Design& design, const HeatInputs& inputs, const ThermalArguments& arguments,
                   CurveChoice& choice) {
    choice.extreme = arguments.extreme.value_or(usual_extreme(design, inputs, arguments));
    choice.with_cutoffs = !arguments.no_cutoff;
    std::string mistake = choose_situation(design, inputs, arguments.situation, choice);
    if (mistake.empty()) mistake = choose_stuck(design, inputs, arguments.stuck, choice);
    if (mistake.empty()) mistake = choose_span(arguments.span, choice);
    return mistake;
}

std::string answer(const HeatCurve& curve, std::string_view title, CurveFormat format) {
    if (format == CurveFormat::csv) return curve_csv(curve, title);
    if (format == CurveFormat::json) return curve_json(curve, title);
    return curve_text(curve, title, {.utf8 = speaks_utf8(), .colour = wants_colour(), .width = terminal_width()});
}

} // namespace

CommandResult thermal(const ThermalArguments& arguments) {
    const LoadedDesign loaded = load_design(arguments.design, arguments.with, arguments.folders);
    if (!loaded.errors.empty()) return not_read(loaded.errors, loaded.sources);
    const Design& design = loaded.design;
    const Library& library = loaded.library;
    const Assessment assessment = assess(design, library.rules, library.policy, library.handbook);
    if (!assessment.errors.empty()) return not_read(assessment.errors, loaded.sources);
    if (assessment.fitness == Fitness::refused)
        return refused("this design is refused, so its heat is not followed either; trivet check says why",
                       exit_not_fit);

    const HeatInputs& inputs = assessment.analysis->heat_inputs;
    if (const std::string why = cannot_answer(design, inputs); !why.empty()) return refused(why, exit_not_fit);
    CurveChoice choice;
    if (const std::string why = choose(design, inputs, arguments, choice); !why.empty())
        return refused(why, exit_unreadable);
    const std::string_view title = design.title.empty() ? arguments.design : design.title;
    CommandResult result{answer(heat_curve(design, inputs, choice), title, arguments.format), {}, exit_fit};
    if (arguments.format == CurveFormat::text)
        for (const std::string& note : library.notes) result.output += fmt::format("Note: {}.\n", note);
    return result;
}

} // namespace trivet
