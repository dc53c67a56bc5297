#include "cli/arguments.h"

#include "report/wording.h"
#include "source/suggest.h"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

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

CLI::App* add_check(CLI::App& app, CheckArguments& check) {
    CLI::App* command = app.add_subcommand("check", "Judge designs: verdict, findings with numbers, what to do");
    command->add_option("DESIGN", check.designs, "Design files (TOML)")->required()->type_name("FILE");
    command->add_flag("--all", check.everything, "Also list passing rules with margins and values to confirm");
    command
        ->add_option_function<std::string>(
            "--format",
            [&check](const std::string& word) { check.format = word == "json" ? Format::json : Format::text; },
            "text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->type_name("FORMAT");
    add_with(*command, check.with);
    add_folders(*command, check.folders);
    return command;
}

CLI::App* add_explain(CLI::App& app, ExplainArguments& explain) {
    CLI::App* command = app.add_subcommand("explain", "What a rule requires and why; also: facts, policy, tables");
    command->add_option("TOPIC", explain.topic, "A rule, a table, or one of: facts, policy, tables")->type_name("NAME");
    command->add_option("--design", explain.design, "Show the rule with the numbers of this design")->type_name("FILE");
    add_folders(*command, explain.folders);
    return command;
}

CLI::App* add_parts(CLI::App& app, PartsArguments& parts) {
    CLI::App* command = app.add_subcommand("parts", "Browse the parts library: trivet parts switch 24 V 5 A dc");
    command->add_option("WORD", parts.words,
                        "Words in name, title or category; ratings such as 24 V; a full name shows the part");
    add_folders(*command, parts.folders);
    return command;
}

void add_extreme_and_format(CLI::App& command, ThermalArguments& thermal) {
    command
        .add_option_function<std::string>(
            "--extreme",
            [&thermal](const std::string& word) {
                thermal.extreme = word == "cold"  ? HeatExtreme::cold
                                  : word == "hot" ? HeatExtreme::hot
                                                  : HeatExtreme::hot_tight;
            },
            "hot: most heat, poorest cooling; hot-tight: as hot, but bodies pass heat on at their best; cold: the "
            "opposite of hot. Not given: hot, or cold where the room is as warm as every setpoint")
        ->check(CLI::IsMember({"hot", "hot-tight", "cold"}))
        ->type_name("NAME");
    command
        .add_option_function<std::string>(
            "--format",
            [&thermal](const std::string& word) {
                thermal.format = word == "csv"    ? CurveFormat::csv
                                 : word == "json" ? CurveFormat::json
                                                  : CurveFormat::text;
            },
            "text, csv (columns that trivet fit reads) or json")
        ->check(CLI::IsMember({"text", "csv", "json"}))
        ->type_name("FORMAT");
}

CLI::App* add_thermal(CLI::App& app, ThermalArguments& thermal) {
    CLI::App* command = app.add_subcommand(
        "thermal", "Draw how warm everything gets over time, in normal running or with a stuck switch");
    command->add_option("DESIGN", thermal.design, "Design file (TOML)")->required()->type_name("FILE");
    command->add_option("--stuck", thermal.stuck, "This switch or thermostat never opens; the cutoffs act")
        ->type_name("PART");
    command->add_flag("--no-cutoff", thermal.no_cutoff, "As if there were no cutoffs");
    command
        ->add_option("--situation", thermal.situation,
                     "normal (if not given), 'BODY covered', 'BODY taken away', 'FAN stopped', 'SENSOR off its place'")
        ->type_name("TEXT");
    command->add_option("--for", thermal.span, "Show this much time, for example 2h; otherwise until it has settled")
        ->type_name("TIME");
    add_extreme_and_format(*command, thermal);
    add_with(*command, thermal.with);
    add_folders(*command, thermal.folders);
    command->footer("Exit status: 0 answered, 1 the design says too little to answer, 2 an input could not be read.");
    return command;
}

std::optional<FaultClass> fault_class_called(std::string word) {
    std::ranges::replace(word, '-', ' ');
    const auto found = std::ranges::find(fault_class_names, word);
    if (found == fault_class_names.end()) return std::nullopt;
    return static_cast<FaultClass>(found - fault_class_names.begin());
}

void add_only(CLI::App& command, std::vector<FaultClass>& only) {
    const std::string known = fmt::format("'{}'", fmt::join(fault_class_names, "', '"));
    command
        .add_option_function<std::vector<std::string>>(
            "--only",
            [&only](const std::vector<std::string>& words) {
                for (const std::string& word : words)
                    if (const auto found = fault_class_called(word)) only.push_back(*found);
            },
            fmt::format("Only faults that lead to this, several with commas: {}", known))
        ->delimiter(',')
        ->allow_extra_args(false)
        ->check([known](const std::string& word) {
            return fault_class_called(word) ? std::string{} : fmt::format("'{}' is none of {}", word, known);
        })
        ->type_name("CLASS");
}

CLI::App* add_faults(CLI::App& app, FaultsArguments& faults) {
    CLI::App* command =
        app.add_subcommand("faults", "What happens when one thing fails, for every single thing that can");
    command->add_option("DESIGN", faults.design, "Design file (TOML)")->required()->type_name("FILE");
    command->add_flag("--pairs", faults.pairs, "Two faults at once, one of them a latent one");
    add_only(*command, faults.only);
    command->add_flag("--all", faults.everything, "A line for every fault, also where many lead to the same");
    command
        ->add_option_function<std::string>(
            "--format",
            [&faults](const std::string& word) {
                faults.format = word == "csv"        ? FaultFormat::csv
                                : word == "json"     ? FaultFormat::json
                                : word == "markdown" ? FaultFormat::markdown
                                                     : FaultFormat::text;
            },
            "text, json, csv or markdown")
        ->check(CLI::IsMember({"text", "json", "csv", "markdown"}))
        ->type_name("FORMAT");
    add_with(*command, faults.with);
    add_folders(*command, faults.folders);
    command->footer(
        "Exit status: 0 no hazard, 1 a hazard or something that cannot be told, 2 an input could not be read.");
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
    FaultsArguments faults;
    FitArguments fit;
    ExplainArguments explain;
    PartsArguments parts;
    ThermalArguments thermal;
    const CLI::App* check_command = add_check(app, check);
    const CLI::App* faults_command = add_faults(app, faults);
    const CLI::App* thermal_command = add_thermal(app, thermal);
    const CLI::App* fit_command = add_fit(app, fit);
    const CLI::App* explain_command = add_explain(app, explain);
    add_parts(app, parts);

    try {
        app.parse(count, words);
    } catch (const CLI::Success& asked) {
        std::string help = asked.get_name() == "CallForVersion" ? app.version() + "\n" : app.help();
        for (const CLI::App* command : app.get_subcommands(nullptr))
            if (command->parsed()) help = command->help();
        return {.arguments = {}, .print = help, .is_mistake = false};
    } catch (const CLI::ParseError& mistake) {
        return {.arguments = {}, .print = mistake_text(app, mistake, count, words), .is_mistake = true};
    }
    if (check_command->parsed()) return {.arguments = check, .print = {}, .is_mistake = false};
    if (faults_command->parsed()) return {.arguments = faults, .print = {}, .is_mistake = false};
    if (fit_command->parsed()) return {.arguments = fit, .print = {}, .is_mistake = false};
    if (explain_command->parsed()) return {.arguments = explain, .print = {}, .is_mistake = false};
    if (thermal_command->parsed()) return {.arguments = thermal, .print = {}, .is_mistake = false};
    return {.arguments = parts, .print = {}, .is_mistake = false};
}

} // namespace trivet
