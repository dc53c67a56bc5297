#include "rules/explain.h"
#include "support/check_text.h"
#include "support/golden.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

const fs::path root = TRIVET_SOURCE_DIR;

const Library& library() {
    static Sources sources;
    static const Loaded<Library> loaded = load_library(sources, {}, {});
    return *loaded.value;
}

std::string stored(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

// Sections of `trivet explain` as Markdown: prose as prose, columns as they stand.
std::string as_markdown(const std::string& explained) {
    static const std::set<std::string_view> prose{"What it requires", "Why", "What to do", "What it does not see"};
    std::string out;
    bool fenced = false;
    std::size_t at = explained.find('\n') + 1;
    while (at < explained.size()) {
        const std::size_t end = std::min(explained.find('\n', at), explained.size());
        const std::string line = explained.substr(at, end - at);
        at = end + 1;
        if (!line.empty() && line.front() != ' ') {
            if (fenced) out += "```\n\n";
            fenced = !prose.contains(line);
            out += fmt::format("## {}\n\n{}", line, fenced ? "```text\n" : "");
        } else if (line.empty()) {
            if (!fenced) out += "\n";
        } else {
            out += line.substr(2) + "\n";
        }
    }
    return fenced ? out + "```\n" : out;
}

// The first sentence the rule says about its failing fixture, with the remedy.
std::string example_of(const Rule& rule) {
    const fs::path fixture = root / "tests/rules" / rule.name / "fail.toml";
    Checked checked;
    check_file(checked, fixture.string(), Detail::failures, {(fixture.parent_path() / "parts").string()});
    for (const Finding& finding : checked.assessment.findings)
        if (finding.rule->name == rule.name && finding.verdict == Verdict::fail)
            return fmt::format("> {}\n>\n> {}\n", message(finding, checked.assessment.facts),
                               remedy(finding, checked.assessment.facts));
    return {};
}

std::string page_of(const Rule& rule) {
    constexpr std::string_view head = "<!-- Written by ./dev bless from the rule's file; do not edit. -->\n";
    return fmt::format("{}# {}\n\n{} · about: {}\n{}\n## What it says of a failing build\n\n{}", head, rule.name,
                       consequence_names[static_cast<std::size_t>(rule.consequence)],
                       subject_kind_names[static_cast<std::size_t>(rule.subject)],
                       as_markdown(explain_rule(rule, library().policy, library().handbook)), example_of(rule));
}

std::string index_page() {
    std::string out = "<!-- Written by ./dev bless; do not edit. -->\n# Rules\n\n| rule | about | costs | requires "
                      "|\n|---|---|---|---|\n";
    for (const Rule& rule : library().rules.rules)
        out += fmt::format("| [{}]({}.md) | {} | {} | {} |\n", rule.name, rule.name,
                           subject_kind_names[static_cast<std::size_t>(rule.subject)],
                           consequence_names[static_cast<std::size_t>(rule.consequence)], rule.title);
    return out;
}

void expect_page(const fs::path& path, const std::string& text) {
    if (blessing(std::getenv("TRIVET_BLESS"), std::getenv("CI")) == Blessing::asked) {
        if (stored(path) != text) std::ofstream(path, std::ios::binary) << text;
        return;
    }
    EXPECT_TRUE(stored(path) == text) << path.string() << ", " << first_difference(stored(path), text)
                                      << "\nrun: ./dev bless";
}

TEST(RulePages, EveryRuleHasItsPageAsGenerated) {
    for (const Rule& rule : library().rules.rules) {
        const std::string page = page_of(rule);
        EXPECT_FALSE(page.ends_with("failing build\n\n")) << rule.name << " has no failing fixture to quote";
        expect_page(root / "docs/rules" / (rule.name + ".md"), page);
    }
    expect_page(root / "docs/rules/README.md", index_page());
}

TEST(RulePages, NoPageIsLeftOver) {
    for (const auto& entry : fs::directory_iterator(root / "docs/rules")) {
        const std::string name = entry.path().stem().string();
        EXPECT_TRUE(name == "README" || library().rules.find(name) != nullptr) << entry.path();
    }
}

TEST(FactPage, IsAsGenerated) {
    expect_page(
        root / "docs/facts.md",
        "<!-- Written by ./dev bless; do not edit. -->\n# Facts\n\nWhat rules may name, by subject.\n\n```text\n" +
            list_facts() + "```\n");
}

} // namespace
} // namespace trivet::testing
