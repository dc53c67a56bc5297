#include "assess/assess.h"
#include "cli/commands.h"
#include "cli/disk.h"
#include "cli/exit_status.h"
#include "cli/library.h"
#include "cli/terminal.h"
#include "design/overlay.h"
#include "design/read_design.h"
#include "report/curve_csv.h"
#include "report/curve_json.h"
#include "report/curve_text.h"
#include "report/errors.h"
#include "source/suggest.h"
#include "units/parse.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {

namespace {

CommandResult not_read(Errors errors, const Sources& sources) {
    tidy(errors);
    return {{}, text_of_errors(errors, sources, wants_colour()), exit_unreadable};
}

CommandResult refused(const std::string& sentence, int status) {
    return {{}, fmt::format("trivet: {}\n", sentence), status};
}

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
    Sources sources;
    const Loaded<SourceFile> file = read_file(sources, arguments.design);
    if (!file) return not_read(file.errors, sources);
    const Loaded<Library> library = load_library(sources, arguments.folders, arguments.design);
    if (!library) return not_read(library.errors, sources);
    Loaded<Design> design = read_design(*file.value, library.value->catalog);
    if (!design) return not_read(design.errors, sources);
    if (!arguments.with.empty()) {
        const Loaded<SourceFile> fitted = read_file(sources, arguments.with);
        if (!fitted) return not_read(fitted.errors, sources);
        const Errors errors = apply_overlay(*design.value, *fitted.value);
        if (!errors.empty()) return not_read(errors, sources);
    }
    const Assessment assessment =
        assess(*design.value, library.value->rules, library.value->policy, library.value->handbook);
    if (!assessment.errors.empty()) return not_read(assessment.errors, sources);
    if (assessment.fitness == Fitness::refused)
        return refused("this design is refused, so its heat is not followed either; trivet check says why",
                       exit_not_fit);

    const HeatInputs& inputs = assessment.analysis->heat_inputs;
    if (const std::string why = cannot_answer(*design.value, inputs); !why.empty()) return refused(why, exit_not_fit);
    CurveChoice choice;
    if (const std::string why = choose(*design.value, inputs, arguments, choice); !why.empty())
        return refused(why, exit_unreadable);
    const std::string_view title = design.value->title.empty() ? arguments.design : design.value->title;
    CommandResult result{answer(heat_curve(*design.value, inputs, choice), title, arguments.format), {}, exit_fit};
    if (arguments.format == CurveFormat::text)
        for (const std::string& note : library.value->notes) result.output += fmt::format("Note: {}.\n", note);
    return result;
}

} // namespace trivet
