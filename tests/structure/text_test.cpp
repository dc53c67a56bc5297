#include "structure/house.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>

namespace trivet::house {
namespace {

constexpr std::size_t most_source_lines = 300;
constexpr std::size_t most_test_lines = 500;

TEST(Files, AreShortEnoughToReadInOneSitting) {
    for (const TextFile& file : cpp_files("src")) EXPECT_LE(file.lines.size(), most_source_lines) << file.path;
    for (const TextFile& file : cpp_files("tests")) EXPECT_LE(file.lines.size(), most_test_lines) << file.path;
}

TEST(Files, AreThere) {
    EXPECT_GE(cpp_files("src").size(), 40U);
    EXPECT_GE(cpp_files("tests").size(), 10U);
    for (const std::string_view name : {"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "setup", "dev"}) {
        EXPECT_FALSE(whole_text(std::string(name)).empty()) << name;
    }
}

std::string lower(std::string text) {
    std::ranges::transform(text, text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

// This file itself holds the words it looks for.
bool is_this_file(const TextFile& file) { return file.path == "tests/structure/text_test.cpp"; }

// Unfinished business, and places that exist on one machine only.
constexpr std::string_view never_anywhere[] = {
    "TODO",   "FIXME",  "XXX",     "HACK",      "/work/",        "/tmp/",
    "/home/", "/root/", "shared/", "facts.csv", "failure-modes", "localhost",
};

TEST(Files, HoldNothingUnfinishedAndNothingOfOneMachine) {
    for (const TextFile& file : all_files()) {
        if (is_this_file(file)) continue;
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            for (const std::string_view word : never_anywhere) {
                EXPECT_EQ(file.lines[i].find(word), std::string::npos)
                    << place(file, static_cast<int>(i) + 1) << ": " << word;
            }
        }
    }
}

// Whole words, in any case: nothing to drink stands beside a wiring check, and nobody's registry is named.
constexpr std::string_view never_as_word[] = {
    "mug", "mugs", "cup", "cups", "tea", "coffee", "subagent", "chatbot", "debian.org", "pypi", "npmjs",
};

TEST(Files, NameNothingThatDoesNotBelong) {
    for (const TextFile& file : all_files()) {
        if (is_this_file(file)) continue;
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            const std::string line = lower(file.lines[i]);
            for (const std::string_view word : never_as_word) {
                EXPECT_FALSE(has_word(line, word)) << place(file, static_cast<int>(i) + 1) << ": " << word;
            }
        }
    }
}

// Rules and tests are named in words, never by a code of two letters and two digits.
bool has_code(std::string_view line) {
    const auto upper = [](char c) { return c >= 'A' && c <= 'Z'; };
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    const auto beside = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_'; };
    for (std::size_t i = 0; i + 5 <= line.size(); ++i) {
        const bool code =
            upper(line[i]) && upper(line[i + 1]) && line[i + 2] == '-' && digit(line[i + 3]) && digit(line[i + 4]);
        if (code && (i == 0 || !beside(line[i - 1])) && (i + 5 == line.size() || !beside(line[i + 5]))) return true;
    }
    return false;
}

TEST(Files, NameThingsInWordsNotInCodes) {
    for (const TextFile& file : all_files()) {
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            EXPECT_FALSE(has_code(file.lines[i])) << place(file, static_cast<int>(i) + 1) << ": " << file.lines[i];
        }
    }
}

TEST(Files, EndWithALineBreakAndHoldNoTabsOrTrailingBlanks) {
    for (const TextFile& file : all_files()) {
        const bool free_form = file.path.starts_with("tests/bad-input/") || file.path.ends_with("expected.txt");
        if (free_form || file.lines.empty()) continue;
        EXPECT_TRUE(whole_text(file.path).ends_with('\n')) << file.path;
        for (std::size_t i = 0; i < file.lines.size(); ++i) {
            const std::string& line = file.lines[i];
            EXPECT_EQ(line.find('\t'), std::string::npos) << place(file, static_cast<int>(i) + 1) << ": tab";
            EXPECT_FALSE(line.ends_with(' ') || line.ends_with('\r'))
                << place(file, static_cast<int>(i) + 1) << ": blank at the end";
        }
    }
}

} // namespace
} // namespace trivet::house
