#include "assess/assess.h"
#include "cli/disk.h"
#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "design/read_design.h"
#include "report/worked_example.h"
#include "rules/explain.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <string_view>
#include <vector>

namespace trivet {

namespace {

CommandResult unknown_topic(const Library& library, const std::string& topic) {
    std::vector<std::string_view> names{"facts", "policy", "tables"};
    for (const Rule& rule : library.rules.rules) names.push_back(rule.name);
    for (const auto& [name, table] : library.handbook.tables) names.push_back(name);
    const std::string_view near = nearest(topic, names);
    const std::string hint = near.empty() ? "trivet explain lists all rules" : fmt::format("did you mean '{}'?", near);
    return {{}, fmt::format("trivet: there is no rule or table '{}'; {}\n", topic, hint), exit_unreadable};
}

std::string list_tables(const Handbook& handbook) {
    std::string out = "Published tables (trivet explain NAME shows one with its sources):\n\n";
    for (const auto& [name, table] : handbook.tables) out += fmt::format("  {:<28} {}\n", name, table.title);
    return out;
}

// The rule with the numbers of a design: what it says of each subject it applies to.
CommandResult with_design(Sources& sources, const Library& library, const Rule& rule, const std::string& path) {
    const Loaded<SourceFile> file = read_file(sources, path);
    if (!file) return not_read(file.errors, sources);
    const Loaded<Design> design = read_design(*file.value, library.catalog);
    if (!design) return not_read(design.errors, sources);
    const Assessment assessment =
        assess(*design.value, library.rules, library.policy, library.handbook, Detail::everything);
    if (!assessment.errors.empty()) return not_read(assessment.errors, sources);
    return {explain_rule(rule, assessment.policy, library.handbook) + "\n" + worked_example(rule, assessment, sources),
            {},
            exit_fit};
}

} // namespace

CommandResult explain(const ExplainArguments& arguments) {
    Sources sources;
    const Loaded<Library> library = load_library(sources, arguments.folders, arguments.design);
    if (!library) return not_read(library.errors, sources);
    const std::string& topic = arguments.topic;
    if (topic.empty()) return {list_rules(library.value->rules), {}, exit_fit};
    if (topic == "facts") return {list_facts(), {}, exit_fit};
    if (topic == "policy") return {list_policy(library.value->policy), {}, exit_fit};
    if (topic == "tables") return {list_tables(library.value->handbook), {}, exit_fit};
    if (const PublishedTable* table = library.value->handbook.find(topic)) return {explain_table(*table), {}, exit_fit};
    const Rule* rule = library.value->rules.find(topic);
    if (rule == nullptr) return unknown_topic(*library.value, topic);
    if (!arguments.design.empty()) return with_design(sources, *library.value, *rule, arguments.design);
    return {explain_rule(*rule, library.value->policy, library.value->handbook), {}, exit_fit};
}

} // namespace trivet
