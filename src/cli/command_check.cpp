#include "assess/assess.h"
#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "cli/terminal.h"
#include "report/errors.h"
#include "report/json.h"
#include "report/text.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

namespace {

std::string errors_text(Errors errors, const Sources& sources, Format format, const std::string& file) {
    tidy(errors);
    return format == Format::json ? json_errors(errors, sources, file)
                                  : text_of_errors(errors, sources, wants_colour());
}

// Errors go to stderr as text; as JSON they are the answer, on stdout.
CommandResult not_read(const Errors& errors, const Sources& sources, const CheckArguments& arguments,
                       const std::string& file) {
    std::string text = errors_text(errors, sources, arguments.format, file);
    if (arguments.format == Format::json) return {std::move(text), {}, exit_unreadable};
    return {{}, std::move(text), exit_unreadable};
}

CommandResult check_one(const std::string& path, const CheckArguments& arguments) {
    const LoadedDesign loaded = load_design(path, arguments.with, arguments.folders);
    const Sources& sources = loaded.sources;
    const Library& library = loaded.library;
    if (!loaded.errors.empty()) return not_read(loaded.errors, sources, arguments, path);

    const bool json = arguments.format == Format::json;
    const Detail detail = arguments.everything || json ? Detail::everything : Detail::failures;
    const Assessment assessment = assess(loaded.design, library.rules, library.policy, library.handbook, detail);
    if (!assessment.errors.empty()) return not_read(assessment.errors, sources, arguments, path);

    CommandResult result;
    result.status = assessment.fitness == Fitness::fit ? exit_fit : exit_not_fit;
    if (json) {
        result.output = json_report(loaded.design, assessment, sources);
        return result;
    }
    const TextStyle style{.colour = wants_colour(), .everything = arguments.everything};
    result.output = text_report(loaded.design, assessment, library.rules, sources, style);
    for (const std::string& note : library.notes) result.output += fmt::format("Note: {}.\n", note);
    return result;
}

} // namespace

CommandResult check(const CheckArguments& arguments) {
    CommandResult all;
    for (const std::string& path : arguments.designs) {
        CommandResult one = check_one(path, arguments);
        if (!all.output.empty() && !one.output.empty() && arguments.format == Format::text) all.output += "\n";
        all.output += one.output;
        all.errors += one.errors;
        all.status = std::max(all.status, one.status);
    }
    return all;
}

} // namespace trivet
