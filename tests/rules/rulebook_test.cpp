#include "support/rulebook.h"

#include "facts/schema.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <set>
#include <sstream>

namespace trivet::testing {
namespace {

constexpr std::size_t rules_at_least = 50;
constexpr std::size_t words_at_most = 30;

std::vector<std::string> words_of(std::string_view text, char separator) {
    std::vector<std::string> words;
    std::istringstream in{std::string(text)};
    for (std::string word; std::getline(in, word, separator);)
        if (!word.empty()) words.push_back(word);
    return words;
}

bool ends_sentence(std::string_view text) { return text.ends_with('.') || text.ends_with('?'); }

// The most words that stand between two ends of sentences.
std::size_t longest_sentence(std::string_view text) {
    std::size_t longest = 0;
    std::size_t count = 0;
    for (const std::string& word : words_of(text, ' ')) {
        longest = std::max(longest, ++count);
        if (ends_sentence(word) || word.ends_with(':')) count = 0;
    }
    return longest;
}

std::string advice(const Rule& rule) { return rule.file + ": "; }

TEST(Rulebook, IsReadWithoutErrors) {
    EXPECT_EQ(rulebook().errors(), "") << "mend these places in rules/ and parts/";
    EXPECT_GE(rulebook().rules().rules.size(), rules_at_least) << "rules/ lacks files";
    EXPECT_EQ(rulebook().rules().rules.size(), rulebook().rule_files());
}

TEST(Rulebook, NamesRulesInPlainWords) {
    const std::set<std::string> empty_words{"check", "error", "bad", "rule", "test"};
    for (const Rule& rule : rulebook().rules().rules) {
        const auto words = words_of(rule.name, '-');
        EXPECT_GE(words.size(), 2U) << advice(rule) << "name the file after what the rule requires, as in fuse-voltage";
        for (const std::string& word : words) {
            const bool letters = std::ranges::all_of(word, [](char c) { return c >= 'a' && c <= 'z'; });
            EXPECT_TRUE(letters) << advice(rule) << "'" << word << "' is not a word: rename the file";
            EXPECT_FALSE(empty_words.contains(word))
                << advice(rule) << "'" << word << "' says nothing: rename the file";
        }
    }
}

TEST(Rulebook, WritesTitlesWithoutFinalStop) {
    for (const Rule& rule : rulebook().rules().rules) {
        EXPECT_FALSE(ends_sentence(rule.title)) << advice(rule) << "take the stop off the title";
        EXPECT_TRUE(rule.title.front() >= 'A' && rule.title.front() <= 'Z')
            << advice(rule) << "begin title with a capital";
        EXPECT_LE(longest_sentence(rule.title), words_at_most) << advice(rule) << "shorten the title";
    }
}

TEST(Rulebook, WritesShortSentences) {
    for (const Rule& rule : rulebook().rules().rules) {
        const std::array<std::pair<std::string_view, std::string_view>, 4> texts{
            {{"message", rule.message}, {"why", rule.why}, {"remedy", rule.remedy}, {"limits", rule.limits}}};
        for (const auto& [key, text] : texts) {
            EXPECT_TRUE(ends_sentence(text) || (key == "limits" && text == "none"))
                << advice(rule) << "end '" << key << "' with a full stop";
            EXPECT_LE(longest_sentence(text), words_at_most)
                << advice(rule) << "a sentence of '" << key << "' has more than " << words_at_most
                << " words: split it";
            EXPECT_EQ(text.find("  "), std::string_view::npos) << advice(rule) << "two spaces in '" << key << "'";
        }
        for (const std::string& source : rule.source)
            EXPECT_GE(source.size(), 8U) << advice(rule) << "say more than '" << source << "' in 'source'";
    }
}

TEST(Rulebook, SaysWhoItIsAbout) {
    for (const Rule& rule : rulebook().rules().rules) {
        if (rule.subject == SubjectKind::build) continue;
        EXPECT_NE(rule.message.find("{subject}"), std::string::npos)
            << advice(rule) << "name the thing in 'message' with {subject}";
    }
}

TEST(Rulebook, HasNoFixturesWithoutARule) {
    for (const auto& entry : std::filesystem::directory_iterator(rulebook().in_tree("tests/rules"))) {
        if (!entry.is_directory()) continue;
        const std::string name = entry.path().filename().string();
        EXPECT_NE(rulebook().rules().find(name), nullptr)
            << rulebook().shown(entry.path()) << ": there is no rule '" << name << "'; delete or rename the folder";
    }
}

// Names of a kind that no rule uses, less those that a list excuses; both ways, so that the list stays true.
void expect_used(const std::set<std::string>& declared, const std::set<std::string>& used, const std::string& list) {
    const auto reasons = reasons_in(rulebook().in_tree(list));
    for (const std::string& name : declared) {
        if (used.contains(name)) continue;
        EXPECT_TRUE(reasons.contains(name)) << name << " is used by no rule: use it, delete it, or write the line '"
                                            << name << " = reason' in " << list;
    }
    for (const auto& [name, reason] : reasons) {
        EXPECT_FALSE(reason.empty()) << list << ": say why " << name << " is used by no rule";
        EXPECT_TRUE(declared.contains(name)) << list << ": there is no " << name << "; delete its line";
        EXPECT_FALSE(used.contains(name)) << list << ": a rule uses " << name << "; delete its line";
    }
}

std::string fact_name(FactId id) {
    const FactDeclaration& fact = declaration(id);
    return std::string(subject_kind_names[static_cast<std::size_t>(fact.subject)]) + "." + std::string(fact.name);
}

TEST(Rulebook, UsesEveryFact) {
    std::set<std::string> declared;
    std::set<std::string> used;
    for (std::uint16_t i = 0; i < fact_schema().size(); ++i) declared.insert(fact_name({i}));
    for (const Rule& rule : rulebook().rules().rules)
        for (const RuleName& name : rule.names)
            if (name.kind == NameKind::fact) used.insert(fact_name({static_cast<std::uint16_t>(name.index)}));
    expect_used(declared, used, "tests/rules/facts-not-in-rules.txt");
}

TEST(Rulebook, UsesEveryPolicyItem) {
    std::set<std::string> declared;
    std::set<std::string> used;
    for (const PolicyItem& item : rulebook().policy().items) declared.insert(item.name);
    for (const Rule& rule : rulebook().rules().rules)
        for (const RuleName& name : rule.names)
            if (name.kind == NameKind::policy) used.insert(name.name);
    expect_used(declared, used, "tests/rules/policy-not-in-rules.txt");
}

void add_tables(const Expression& expression, std::set<std::string>& tables) {
    for (const ExprNode& node : expression.nodes)
        if (node.kind == ExprKind::call && node.function == Function::look_up) tables.insert(node.text);
}

TEST(Rulebook, UsesEveryTable) {
    std::set<std::string> declared;
    std::set<std::string> used;
    for (const auto& [name, table] : rulebook().handbook().tables) declared.insert(name);
    for (const Rule& rule : rulebook().rules().rules) {
        add_tables(rule.require, used);
        if (rule.applies) add_tables(*rule.applies, used);
        for (const Let& let : rule.lets) add_tables(let.expression, used);
    }
    expect_used(declared, used, "tests/rules/tables-not-in-rules.txt");
}

} // namespace
} // namespace trivet::testing
