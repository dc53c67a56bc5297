#include "assess/assess.h"
#include "cli/disk.h"
#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "cli/terminal.h"
#include "design/overlay.h"
#include "thermal/design_fit.h"
#include "units/format.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>

namespace trivet {

namespace {

constexpr double misses_something = 0.5;     // autocorrelation
constexpr double finest_worth_saying = 0.02; // K of residual: below that, likeness of neighbours means nothing

// Shows how far the search is when somebody watches and it takes longer than a moment.
class Progress {
public:
    Progress()
        : watched_(errors_are_watched()) {}

    void operator()(int iteration, TemperatureDifference residual) {
        if (!watched_ || std::chrono::steady_clock::now() - start_ < std::chrono::milliseconds(500)) return;
        print_error(fmt::format("\rfitting: step {}, {:.3f} K off   ", iteration, residual.si));
        shown_ = true;
    }
    void clear() const {
        if (shown_) print_error("\r\033[K");
    }

private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
    bool watched_ = false;
    bool shown_ = false;
};

AnyQuantity quantity(const FittedParameter& found, double value) {
    return {value,
            found.parameter.kind == OpenParameter::Kind::conductance ? dim::thermal_conductance : dim::heat_capacity};
}

std::string table(const FitResult& result) {
    std::size_t width = 0;
    for (const FittedParameter& found : result.parameters) width = std::max(width, found.parameter.name.size());
    std::string out;
    for (const FittedParameter& found : result.parameters) {
        const bool conducts = found.parameter.kind == OpenParameter::Kind::conductance;
        const double span = found.highest - found.lowest;
        out += fmt::format("  {:<{}}  {:>10}   {}..{} {}\n", found.parameter.name, width,
                           to_text(quantity(found, found.value)), rounded_outward(found.lowest, span, false),
                           rounded_outward(found.highest, span, true), conducts ? "W/K" : "J/K");
    }
    return out;
}

std::string residual_sentence(const FitResult& result) {
    return fmt::format("computed and measured temperatures differ by {:.2f} K (root mean square), {:.2f} K at most",
                       result.residual.si, result.largest_residual.si);
}

// What the numbers are worth, for people.
std::string judgement(const FitResult& result) {
    std::string out = fmt::format("\nWith these numbers {}.\n", residual_sentence(result));
    out += "Each range holds the true number, all of them together with 95 % confidence, if the heat paths of the\n"
           "design are the real ones; it includes the tolerances of what the design states.\n";
    if (result.autocorrelation > misses_something && result.residual.si > finest_worth_saying)
        out +=
            fmt::format("Caution: what is left over follows a curve (neighbouring rows agree by {:.2f} of 1), so the "
                        "build has a body or a\nheat path that the design does not describe. The ranges are "
                        "widened for it, but may still be too narrow.\n",
                        result.autocorrelation);
    return out;
}

std::string undetermined_text(const FitResult& result) {
    std::string out = fmt::format("This log cannot determine:\n\n");
    for (const std::string& name : result.undetermined) out += fmt::format("  {}\n", name);
    if (result.missing < result.undetermined.size())
        out += fmt::format(
            "\nIt only shows how they hang together. State {} of them in the design (weigh a body: mass and "
            "material\ngive its capacity), and the log can decide the others.\n",
            result.missing == 1 ? std::string("one") : fmt::format("{}", result.missing));
    else
        out += "\nLog a heating-up from room temperature until it stays the same, then the cooling, with a sensor on "
               "every\n"
               "body, or state these numbers in the design.\n";
    return out + "Nothing was written.\n";
}

Overlay overlay_of(const Design& design, const FitResult& result) {
    Overlay overlay;
    for (const FittedParameter& found : result.parameters) {
        const std::uint32_t index = found.parameter.index;
        if (found.parameter.kind == OpenParameter::Kind::capacity) {
            overlay.bodies.push_back({design.bodies[index].name, {{found.lowest}, {found.highest}}});
            continue;
        }
        const HeatPath& path = design.heat_paths[path_of_link(design, index)];
        overlay.paths.push_back({path.from, path.to, {{found.lowest}, {found.highest}}});
    }
    return overlay;
}

// Why the fitted numbers may not go there, or nothing.
std::string not_writable(Sources& sources, const FitArguments& arguments) {
    const std::string& path = arguments.output;
    if (path.empty() || !exists(path)) return {};
    if (is_same_file(path, arguments.design)) return fmt::format("'{}' is the design and is not overwritten", path);
    if (is_same_file(path, arguments.log)) return fmt::format("'{}' is the log and is not overwritten", path);
    const Loaded<SourceFile> there = read_file(sources, path);
    if (there && is_overlay(there.value->text)) return {};
    return fmt::format("'{}' exists and was not written by trivet fit; name another file or move it away", path);
}

std::string name_of(const std::string& path) { return path.substr(path.find_last_of('/') + 1); }

CommandResult answer(const Design& design, const FitArguments& arguments, const HeatLog& log, const FitResult& result) {
    if (!result.undetermined.empty()) return {undetermined_text(result), {}, exit_not_fit};
    if (!result.converged)
        return refused(
            fmt::format("no numbers make this design follow the log: {}; compare its heat paths with the build",
                        residual_sentence(result)),
            exit_not_fit);
    const double hours = (log.times.back().si - log.times.front().si) / 3600.0;
    const std::string origin =
        fmt::format("{} rows over {:.1f} h of {}", log.times.size(), hours, name_of(arguments.log));
    CommandResult done{fmt::format("Fitted to {}:\n\n{}{}", origin, table(result), judgement(result)), {}, exit_fit};
    if (arguments.output.empty()) return done;
    const std::string text = overlay_text(
        overlay_of(design, result),
        {fmt::format("From {} for {}.", origin, name_of(arguments.design)),
         fmt::format("{:.2f} K root mean square between computed and measured temperatures.", result.residual.si)});
    const std::string problem = write_file(arguments.output, text);
    if (!problem.empty())
        return refused(fmt::format("'{}' could not be written: {}", arguments.output, problem), exit_unreadable);
    done.output +=
        fmt::format("\nWritten to {0}. Use it: trivet check {1} --with {0}\n", arguments.output, arguments.design);
    return done;
}

} // namespace

CommandResult fit(const FitArguments& arguments) {
    Sources others;
    if (const std::string why = not_writable(others, arguments); !why.empty()) return refused(why, exit_unreadable);
    LoadedDesign loaded = load_design(arguments.design, {}, arguments.folders);
    if (!loaded.errors.empty()) return not_read(loaded.errors, loaded.sources);
    const Design& design = loaded.design;
    const Library& library = loaded.library;
    if (open_parameters(design).empty())
        return refused(
            "the design leaves nothing open; take the mass and capacity out of a [[body]], or conductance and "
            "area out of a [[heat_path]], and the log decides it",
            exit_unreadable);
    const Assessment assessment = assess(design, library.rules, library.policy, library.handbook);
    if (!assessment.errors.empty()) return not_read(assessment.errors, loaded.sources);
    const HeatInputs& inputs = assessment.analysis->heat_inputs;
    if (const auto missing = missing_for_fit(design, inputs); !missing.empty())
        return refused(fmt::format("a fit also needs: {}", fmt::join(missing, "; ")), exit_unreadable);
    const Loaded<SourceFile> text = read_file(loaded.sources, arguments.log);
    if (!text) return not_read(text.errors, loaded.sources);
    const Loaded<HeatLog> log = read_heat_log(*text.value, log_names(design, inputs));
    if (!log) return not_read(log.errors, loaded.sources);

    Progress progress;
    const FitResult result =
        fit_design(design, inputs, *log.value, [&progress](int i, TemperatureDifference k) { progress(i, k); });
    progress.clear();
    return answer(design, arguments, *log.value, result);
}

} // namespace trivet
