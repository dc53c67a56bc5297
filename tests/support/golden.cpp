#include "support/golden.h"

#include <algorithm>
#include <fstream>

namespace trivet::testing {
namespace {

void replace_all(std::string& text, const Replacement& replacement) {
    if (replacement.text.empty()) return;
    for (auto at = text.find(replacement.text); at != std::string::npos;
         at = text.find(replacement.text, at + replacement.word.size())) {
        text.replace(at, replacement.text.size(), replacement.word);
    }
}

std::string_view take_line(std::string_view& text) {
    const auto end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    return line;
}

} // namespace

std::vector<GoldenCase> golden_cases(const std::filesystem::path& folder) {
    std::vector<GoldenCase> cases;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        if (!entry.is_directory()) continue;
        GoldenCase found{.name = entry.path().filename().string(), .folder = entry.path(), .arguments = {}};
        std::ifstream command(entry.path() / "cmd");
        for (std::string line; std::getline(command, line);) found.arguments.push_back(line);
        cases.push_back(std::move(found));
    }
    std::ranges::sort(cases, {}, &GoldenCase::name);
    return cases;
}

std::string golden_text(const RunOutcome& outcome, const std::vector<Replacement>& replacements) {
    std::string text = "exit: " + std::to_string(outcome.exit_status) + "\n" + outcome.output;
    if (!outcome.errors.empty()) text += "--- stderr\n" + outcome.errors;
    for (const Replacement& replacement : replacements) replace_all(text, replacement);
    return text;
}

Blessing blessing(const char* asked, const char* continuous_integration) {
    const auto set = [](const char* value) { return value != nullptr && *value != '\0'; };
    if (!set(asked)) return Blessing::not_asked;
    return set(continuous_integration) ? Blessing::refused : Blessing::asked;
}

std::string first_difference(std::string_view expected, std::string_view actual) {
    for (int number = 1; !expected.empty() || !actual.empty(); ++number) {
        const bool expected_ended = expected.empty();
        const bool actual_ended = actual.empty();
        const std::string_view wanted = take_line(expected);
        const std::string_view got = take_line(actual);
        if (wanted == got && expected_ended == actual_ended) continue;
        const auto shown = [](bool ended, std::string_view line) {
            return ended ? "the end" : "'" + std::string(line) + "'";
        };
        return "line " + std::to_string(number) + ": expected " + shown(expected_ended, wanted) + ", got " +
               shown(actual_ended, got);
    }
    return "line breaks at the end";
}

} // namespace trivet::testing
