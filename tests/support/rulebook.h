#pragma once

#include "assess/assess.h"
#include "catalog/catalog.h"
#include "rules/read_rules.h"

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

namespace trivet::testing {

// A remark behind a line of a fixture: "#~ rule-name" (the rule fails there) or "#~? rule-name" (it cannot be told
// there); several may follow each other. Words in quotes behind a name must occur in what the finding says is missing.
struct Marker {
    std::uint32_t line = 0;
    std::string rule;
    Verdict verdict{};
    std::string fragment;
};

// One file tests/rules/<rule>/<name>.toml, checked with the library of this source tree and the parts/ beside it.
struct Fixture {
    std::string name; // "pass", "fail-thin-wire"
    std::filesystem::path path;
    std::string text;
    std::vector<Marker> markers;
    std::optional<Design> design;
    Assessment assessment;
    std::string errors; // of the design, its parts and its policy, one per line
};

// All rules, parts and tables as they stand on disk now, and every fixture judged once.
class Rulebook {
public:
    explicit Rulebook(std::filesystem::path root);

    const RuleSet& rules() const { return rules_; }
    const Policy& policy() const { return policy_; }
    const Handbook& handbook() const { return handbook_; }
    const std::string& errors() const { return errors_; }  // of the library, one per line
    std::size_t rule_files() const { return rule_files_; } // without the lets that rules share
    std::filesystem::path fixture_folder(std::string_view rule) const;
    std::filesystem::path in_tree(std::string_view path) const { return root_ / path; }
    std::string shown(const std::filesystem::path& path) const; // relative to the source tree

    // Fixtures of a rule whose name is `kind` or starts with "kind-", by name.
    std::vector<const Fixture*> fixtures(std::string_view rule, std::string_view kind);
    std::vector<const Fixture*> fixtures(std::string_view rule); // of all three kinds
    // What a fail or cannot-tell fixture is compared with: "fail-thin" with "pass-thin" if there is one, else "pass".
    const Fixture* counterpart(std::string_view rule, const Fixture& fixture);

    std::string text_of(const Errors& errors) const; // "file:line:column: message (hint)"

private:
    void load();
    void load_rules(std::vector<SourceFile> files);
    void judge(Fixture& fixture);
    const std::vector<Fixture>& of(std::string_view rule);

    std::filesystem::path root_;
    Sources sources_;
    Catalog catalog_;
    Handbook handbook_;
    Policy policy_;
    RuleSet rules_;
    std::string errors_;
    std::size_t rule_files_ = 0;
    std::map<std::string, std::vector<Fixture>, std::less<>> fixtures_;
};

Rulebook& rulebook(); // one per process: loading the library is the dear part

std::string whole_text(const std::filesystem::path& path); // empty if there is none

// "name = reason" per line, or the reason on indented lines below; lines that start with '#' are comments. A name
// without a reason has an empty one.
std::map<std::string, std::string> reasons_in(const std::filesystem::path& path);

// Lines that stand in one of the texts only, comments left away; the larger number of the two sides.
std::size_t changed_lines(std::string_view one, std::string_view other);

// A verdict's subject without numbers that shift when a wire is added: rule, subject, and which of several alike.
using FindingKey = std::tuple<std::string, std::string, std::size_t>;
std::map<FindingKey, const Finding*> findings_by_key(const Assessment& assessment);

std::uint32_t line_of(const Finding& finding, const FactTable& facts);

} // namespace trivet::testing
