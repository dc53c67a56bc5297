#include "support/check_text.h"

#include "design/read_design.h"

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace trivet::testing {

namespace {

void require(const Errors& errors, const Sources& sources) {
    if (errors.empty()) return;
    const InputError& first = errors.front();
    throw std::runtime_error(std::string(sources.name(first.place.file)) + ":" + std::to_string(first.place.line) +
                             ": " + first.message);
}

} // namespace

void check_text(Checked& into, const std::string& name, std::string text, Detail detail,
                const std::vector<std::string>& own_parts) {
    Folders folders;
    for (const std::string& folder : own_parts)
        if (std::filesystem::is_directory(folder)) folders.parts.push_back(folder);
    auto library = load_library(into.sources, folders, {});
    require(library.errors, into.sources);
    into.library = std::move(*library.value);
    auto design = read_design(into.sources.add(name, std::move(text)), into.library.catalog);
    require(design.errors, into.sources);
    into.design = std::move(*design.value);
    into.assessment = assess(into.design, into.library.rules, into.library.policy, into.library.handbook, detail);
    require(into.assessment.errors, into.sources);
}

void check_file(Checked& into, const std::string& path, Detail detail, const std::vector<std::string>& own_parts) {
    std::ifstream stream(path, std::ios::binary);
    if (!stream) throw std::runtime_error("cannot open " + path);
    std::ostringstream text;
    text << stream.rdbuf();
    check_text(into, path, text.str(), detail, own_parts);
}

const Finding* find(const Checked& checked, std::string_view rule, std::string_view subject) {
    for (const Finding& finding : checked.assessment.findings)
        if (finding.rule->name == rule && checked.assessment.facts.subject(finding.subject).name.starts_with(subject))
            return &finding;
    return nullptr;
}

} // namespace trivet::testing
