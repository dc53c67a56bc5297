#include "structure/house.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <map>
#include <regex>
#include <string>

namespace trivet::house {
namespace {

std::vector<TextFile> all_cpp() {
    std::vector<TextFile> files = cpp_files("src");
    std::ranges::move(cpp_files("tests"), std::back_inserter(files));
    return files;
}

// Own header 0, this project 1, other libraries 2, standard library 3.
int block_of(const TextFile& file, const Include& include) {
    const auto stem = std::filesystem::path(file.path).stem().string();
    const auto own = std::filesystem::path(include.path).stem().string();
    if (include.quoted) return !file.header() && (stem == own || stem == own + "_test") ? 0 : 1;
    const bool library = include.path.find('/') != std::string::npos && !include.path.starts_with("sys/");
    return library ? 2 : 3;
}

TEST(Includes, StandInBlocks) {
    for (const TextFile& file : all_cpp()) {
        for (std::size_t i = 1; i < file.includes.size(); ++i) {
            const Include& before = file.includes[i - 1];
            const Include& include = file.includes[i];
            const int step = block_of(file, include) - block_of(file, before);
            EXPECT_GE(step, 0) << place(file, include.line)
                               << ": order is own header, this project, other libraries, std";
            if (step > 0) {
                EXPECT_GT(include.line, before.line + 1) << place(file, include.line) << ": needs an empty line above";
            }
            if (step == 0) {
                EXPECT_LT(before.path, include.path) << place(file, include.line) << ": not in alphabetical order";
            }
        }
    }
}

TEST(Includes, NameAnExistingFileFromTheTopOfSrcOrTests) {
    for (const TextFile& file : all_cpp()) {
        for (const Include& include : file.includes) {
            if (!include.quoted) continue;
            const bool found =
                std::filesystem::exists(std::filesystem::path(TRIVET_SOURCE_DIR) / "src" / include.path) ||
                std::filesystem::exists(std::filesystem::path(TRIVET_SOURCE_DIR) / "tests" / include.path);
            EXPECT_TRUE(found) << place(file, include.line) << ": write \"module/header.h\"";
        }
    }
}

// All modules share one namespace: two types of one name in it would silently become one at link time.
TEST(Headers, NameEveryTypeOnce) {
    const std::regex definition(R"(^(?:struct|class|enum class) (\w+)[^;]*\{?$)");
    std::map<std::string, std::string> seen;
    for (const TextFile& file : cpp_files("src")) {
        if (!file.header()) continue;
        for (const std::string& line : file.lines) {
            std::smatch match;
            if (!std::regex_match(line, match, definition) || line.ends_with(";")) continue;
            const auto [first, is_new] = seen.emplace(match[1], file.path);
            EXPECT_TRUE(is_new) << file.path << " and " << first->second << " both define " << match[1];
        }
    }
    EXPECT_GT(seen.size(), 200U);
}

TEST(Headers, StartWithPragmaOnce) {
    for (const TextFile& file : all_cpp()) {
        if (!file.header()) continue;
        EXPECT_EQ(file.lines.front(), "#pragma once") << file.path;
    }
}

// What only the outermost module may do, or what one of the two compilers cannot do.
struct Banned {
    std::string_view what;
    std::string_view why;
    std::vector<std::string_view> allowed_in; // how the file's path starts
};

const std::vector<Banned> banned{
    {"#include <iostream>", "only cli touches the terminal", {"src/cli/", "src/library/embed_files.cpp"}},
    {"#include <fstream>", "only cli touches the disk", {"src/cli/", "src/library/embed_files.cpp"}},
    {"#include <filesystem>", "only cli touches the disk", {"src/cli/", "src/library/embed_files.cpp"}},
    {"#include <cstdio>", "only cli touches disk and terminal", {"src/cli/"}},
    {"#include <fmt/ostream.h>", "only cli touches the terminal", {"src/cli/", "src/library/embed_files.cpp"}},
    {"#include <fmt/color.h>", "only cli touches the terminal", {"src/cli/", "src/report/"}},
    {"fmt::print", "only cli touches the terminal", {"src/cli/", "src/library/embed_files.cpp"}},
    {"getenv", "only cli reads the environment", {"src/cli/"}},
    {"std::exit", "only main ends the program", {"src/cli/"}},
    {"#include <ranges>", "clang 14 cannot compile views", {}},
    {"std::views", "clang 14 cannot compile views", {}},
    {"#include <format>", "g++ 12 has none; use fmt", {}},
    {"#include <expected>", "g++ 12 has none in C++20; use tl::expected", {}},
    {"#include <source_location>", "clang 14 has none", {}},
    {"#include <regex>", "slow and recursive; write a scanner", {}},
    {"using namespace std", "hides where names come from", {}},
    {"throw ", "errors are values", {}},
    {"catch (", "exceptions end where a library throws them", {"src/source/document.cpp", "src/report/", "src/cli/"}},
    {"NOLINT", "mend the code or change .clang-tidy for all", {}},
    {"#pragma GCC", "mend the code instead of hiding the warning", {}},
    {"reinterpret_cast", "there is a value-safe way", {}},
    {"const_cast", "there is a way without", {}},
    {"dynamic_cast", "use a variant", {}},
};

TEST(Sources, DoNotUseWhatDoesNotBelongThere) {
    for (const TextFile& file : cpp_files("src")) {
        for (const Banned& row : banned) {
            if (std::ranges::any_of(row.allowed_in, [&](std::string_view p) { return file.path.starts_with(p); }))
                continue;
            for (std::size_t i = 0; i < file.lines.size(); ++i) {
                const std::string_view code = std::string_view(file.lines[i]).substr(0, file.lines[i].find("//"));
                EXPECT_EQ(code.find(row.what), std::string_view::npos)
                    << place(file, static_cast<int>(i) + 1) << ": " << row.what << ": " << row.why;
            }
        }
    }
}

} // namespace
} // namespace trivet::house
