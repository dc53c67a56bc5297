#include "assess/assess.h"
#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "cli/terminal.h"
#include "report/fault_csv.h"
#include "report/fault_json.h"
#include "report/fault_markdown.h"
#include "report/fault_text.h"

#include <fmt/format.h>

namespace trivet {

namespace {

std::string answer(const FaultTable& table, std::string_view title, const Sources& sources,
                   const FaultsArguments& arguments) {
    switch (arguments.format) {
    case FaultFormat::json:
        return fault_json(table, title, sources, arguments.only);
    case FaultFormat::csv:
        return fault_csv(table, sources, arguments.only);
    case FaultFormat::markdown:
        return fault_markdown(table, title, arguments.only);
    case FaultFormat::text:
        break;
    }
    return fault_text(table, title,
                      {.colour = wants_colour(),
                       .everything = arguments.everything,
                       .width = terminal_width(),
                       .only = arguments.only});
}

} // namespace

CommandResult faults(const FaultsArguments& arguments) {
    const LoadedDesign loaded = load_design(arguments.design, arguments.with, arguments.folders);
    if (!loaded.errors.empty()) return not_read(loaded.errors, loaded.sources);
    const Design& design = loaded.design;
    const Library& library = loaded.library;
    const Assessment assessment = assess(design, library.rules, library.policy, library.handbook);
    if (!assessment.errors.empty()) return not_read(assessment.errors, loaded.sources);
    if (assessment.fitness == Fitness::refused)
        return refused("this design is refused, so its faults are not followed either; trivet check says why",
                       exit_not_fit);

    const FaultTable pairs = arguments.pairs ? fault_table(design, *assessment.analysis, true) : FaultTable{};
    const FaultTable& table = arguments.pairs ? pairs : assessment.single_faults;
    const std::string_view title = design.title.empty() ? arguments.design : design.title;
    CommandResult result{
        answer(table, title, loaded.sources, arguments), {}, table.has_hazard() ? exit_not_fit : exit_fit};
    if (arguments.format == FaultFormat::text)
        for (const std::string& note : library.notes) result.output += fmt::format("Note: {}.\n", note);
    return result;
}

} // namespace trivet
