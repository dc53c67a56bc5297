#include "assess/assess.h"
#include "cli/commands.h"
#include "cli/disk.h"
#include "cli/exit_status.h"
#include "cli/library.h"
#include "cli/terminal.h"
#include "design/overlay.h"
#include "design/read_design.h"
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
    Sources sources;
    const Loaded<SourceFile> file = read_file(sources, path);
    if (!file) return not_read(file.errors, sources, arguments, path);
    const Loaded<Library> library = load_library(sources, arguments.folders, path);
    if (!library) return not_read(library.errors, sources, arguments, path);
    Loaded<Design> design = read_design(*file.value, library.value->catalog);
    if (!design) return not_read(design.errors, sources, arguments, path);
    if (!arguments.with.empty()) {
        const Loaded<SourceFile> fitted = read_file(sources, arguments.with);
        if (!fitted) return not_read(fitted.errors, sources, arguments, path);
        const Errors errors = apply_overlay(*design.value, *fitted.value);
        if (!errors.empty()) return not_read(errors, sources, arguments, path);
    }

    const bool json = arguments.format == Format::json;
    const Detail detail = arguments.everything || json ? Detail::everything : Detail::failures;
    const Assessment assessment =
        assess(*design.value, library.value->rules, library.value->policy, library.value->handbook, detail);
    if (!assessment.errors.empty()) return not_read(assessment.errors, sources, arguments, path);

    CommandResult result;
    result.status = assessment.fitness == Fitness::fit ? exit_fit : exit_not_fit;
    if (json) {
        result.output = json_report(*design.value, assessment, sources);
        return result;
    }
    const TextStyle style{.colour = wants_colour(), .everything = arguments.everything};
    result.output = text_report(*design.value, assessment, library.value->rules, sources, style);
    for (const std::string& note : library.value->notes) result.output += fmt::format("Note: {}.\n", note);
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
