#include "facts/schema.h"
#include "structure/house.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet::house {
namespace {

// Facts no shipped rule names: they are there for users' own rules or shown as evidence only.
struct Unused {
    std::string_view subject;
    std::string_view fact;
    std::string_view reason;
};
const std::vector<Unused> unused{
    {"heater", "stuck_temperature", "for rules of users: the shipped ones judge the body it heats"},
    {"cutoff", "operating_time", "for rules of users: the shipped ones judge the temperatures it leads to"},
    {"control", "band_held", "for rules of users: how closely a temperature must be held is theirs to say"},
    {"control", "hot_duty", "for rules of users: the shipped one asks for reserve where it is coldest"},
    {"control", "energy_per_hour", "for rules of users about what running costs or how long a battery lasts"},
};

std::string_view subject_name(const FactDeclaration& fact) {
    return subject_kind_names[static_cast<std::size_t>(fact.subject)];
}

std::vector<TextFile> rule_files() {
    std::vector<TextFile> files = all_files();
    std::erase_if(files, [](const TextFile& file) {
        return !file.path.starts_with("rules/") || file.path.starts_with("rules/tables/") ||
               file.path == "rules/policy.toml";
    });
    return files;
}

bool names(const TextFile& rule, std::string_view fact) {
    return std::ranges::any_of(rule.lines, [&](const std::string& line) { return has_word(line, fact); });
}

TEST(Facts, HaveAPlainSentence) {
    for (const FactDeclaration& fact : fact_schema()) {
        EXPECT_GE(fact.text.size(), 15U) << subject_name(fact) << "." << fact.name;
        EXPECT_TRUE(fact.text.ends_with('.')) << subject_name(fact) << "." << fact.name;
    }
}

TEST(Facts, AreNamedBySomeRuleOrListedWithAReason) {
    const std::vector<TextFile> rules = rule_files();
    for (const FactDeclaration& fact : fact_schema()) {
        const std::string folder = "rules/" + std::string(subject_name(fact)) + "/";
        const bool used = std::ranges::any_of(
            rules, [&](const TextFile& rule) { return rule.path.starts_with(folder) && names(rule, fact.name); });
        const bool listed = std::ranges::any_of(unused, [&](const Unused& row) {
            return row.subject == subject_name(fact) && row.fact == fact.name && !row.reason.empty();
        });
        EXPECT_NE(used, listed) << subject_name(fact) << "." << fact.name
                                << (used ? " is used: take it off the list" : " is named by no rule of this subject");
    }
}

TEST(Rules, StandInTheFolderOfTheirSubject) {
    for (const TextFile& rule : rule_files()) {
        if (rule.path.ends_with("/lets.toml")) continue; // what the rules of a folder share
        const std::string folder = rule.path.substr(6, rule.path.find('/', 6) - 6);
        const auto is_subject = [&](const std::string& line) {
            return line.starts_with("subject") && line.find('"' + folder + '"') != std::string::npos;
        };
        EXPECT_TRUE(std::ranges::any_of(rule.lines, is_subject)) << rule.path << ": subject is not \"" << folder << '"';
    }
}

} // namespace
} // namespace trivet::house
