#include "cli/arguments.h"

#include "report/wording.h"
#include "source/suggest.h"

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <string_view>

namespace trivet {

namespace {

void add_folders(CLI::App& command, Folders& folders) {
    command.add_option("--rules", folders.rules, "A folder of your own rules (*.toml); they win over the library")
        ->allow_extra_args(false)
        ->type_name("DIR");
    command.add_option("--parts", folders.parts, "A folder of your own parts (*.toml); they win over the library")
        ->allow_extra_args(false)
        ->type_name("DIR");
}

void add_with(CLI::App& command, std::string& file) {
    command.add_option("--with", file, "Numbers that trivet fit found for what the design leaves open")
        ->type_name("FILE");
}

CLI::App* add_fit(CLI::App& app, FitArguments& fit) {
    CLI::App* command =
        app.add_subcommand("fit", "Find conductances and heat capacities a design leaves open from a measured log");
    command->add_option("DESIGN", fit.design, "Design file (TOML)")->required()->type_name("FILE");
    command->add_option("LOG", fit.log, "Log (CSV): time_s, ambient_C, a column per body, HEATER_on")
        ->required()
        ->type_name("FILE");
    command->footer("Exit status: 0 found, 1 the log cannot determine it, 2 an input could not be read.");
    command->add_option("-o", fit.output, "Write the numbers to this file, for --with")->type_name("FILE");
    add_folders(*command, fit.folders);
    return command;
}

std::string footer() {
    return fmt::format("Exit status: 0 fit to power up, 1 not fit, 2 an input could not be read.\n{}", caution);
}

// What is wrong with the command line; a first word that is no command gets the nearest one.
std::string mistake_text(const CLI::App& app, const CLI::ParseError& mistake, int count, const char* const* words) {
    const std::string_view first = count > 1 ? std::string_view(words[1]) : std::string_view{};
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands(nullptr)) names.push_back(command->get_name());
    const std::vector<std::string_view> known(names.begin(), names.end());
    if (first.empty()) return app.help();
    if (first.starts_with("-") || std::ranges::find(known, first) != known.end())
        return fmt::format("trivet: {}\nTry: trivet --help\n", mistake.what());
    return fmt::format("trivet: there is no command '{}'; {}\nTry: trivet --help\n", first, did_you_mean(first, known));
}

} // namespace

Parsed parse_arguments(int count, const char* const* words) {
    CLI::App app("Trivet checks the parts and wiring of a low-voltage heater build before you power it up.", "trivet");
    app.set_version_flag("--version", "trivet " TRIVET_VERSION);
    app.require_subcommand(1);
    app.footer(footer());

    CheckArguments check;
    auto* check_command = app.add_subcommand("check", "Judge designs: verdict, findings with numbers, what to do");
    check_command->add_option("DESIGN", check.designs, "Design files (TOML)")->required()->type_name("FILE");
    check_command->add_flag("--all", check.everything, "Also list passing rules with margins and values to confirm");
    std::string format = "text";
    check_command->add_option("--format", format, "text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->type_name("FORMAT");
    add_with(*check_command, check.with);
    add_folders(*check_command, check.folders);

    FitArguments fit;
    auto* fit_command = add_fit(app, fit);

    ExplainArguments explain;
    auto* explain_command = app.add_subcommand("explain", "What a rule requires and why; also: facts, policy, tables");
    explain_command->add_option("TOPIC", explain.topic, "A rule, a table, or one of: facts, policy, tables")
        ->type_name("NAME");
    explain_command->add_option("--design", explain.design, "Show the rule with the numbers of this design")
        ->type_name("FILE");
    add_folders(*explain_command, explain.folders);

    PartsArguments parts;
    auto* parts_command = app.add_subcommand("parts", "Browse the parts library: trivet parts switch 24 V 5 A dc");
    parts_command->add_option("WORD", parts.words,
                              "Words in name, title or category; ratings such as 24 V; a full name shows the part");
    add_folders(*parts_command, parts.folders);

    try {
        app.parse(count, words);
    } catch (const CLI::Success& asked) {
        std::string help = asked.get_name() == "CallForVersion" ? app.version() + "\n" : app.help();
        for (const CLI::App* command : {check_command, fit_command, explain_command, parts_command})
            if (command->parsed()) help = command->help();
        return {.arguments = {}, .print = help, .is_mistake = false};
    } catch (const CLI::ParseError& mistake) {
        return {.arguments = {}, .print = mistake_text(app, mistake, count, words), .is_mistake = true};
    }
    check.format = format == "json" ? Format::json : Format::text;
    if (check_command->parsed()) return {.arguments = check, .print = {}, .is_mistake = false};
    if (fit_command->parsed()) return {.arguments = fit, .print = {}, .is_mistake = false};
    if (explain_command->parsed()) return {.arguments = explain, .print = {}, .is_mistake = false};
    return {.arguments = parts, .print = {}, .is_mistake = false};
}

} // namespace trivet
