#include "design/build.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

namespace trivet {
namespace {

namespace fs = std::filesystem;

const fs::path folder = fs::path(TRIVET_SOURCE_DIR) / "tests" / "bad-input";

// A remark at the end of a line: #~ error "fragment of message or hint"; or anywhere, for the file as a whole:
// #~ file error "fragment".
struct Marker {
    std::uint32_t line = 0;
    std::string fragment;
};

std::string text_of(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

std::vector<Marker> markers_of(std::string_view text) {
    constexpr std::string_view on_line = "#~ error \"";
    constexpr std::string_view on_file = "#~ file error \"";
    std::vector<Marker> markers;
    std::uint32_t line = 1;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (text[at] == '\n') ++line;
        const bool whole = text.substr(at, on_file.size()) == on_file;
        if (!whole && text.substr(at, on_line.size()) != on_line) continue;
        at += whole ? on_file.size() : on_line.size();
        const std::size_t end = text.find('"', at);
        markers.push_back({whole ? 0 : line, std::string(text.substr(at, end - at))});
        at = end;
    }
    return markers;
}

std::vector<fs::path> files() {
    std::vector<fs::path> found;
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (entry.path().extension() == ".toml") found.push_back(entry.path());
    }
    std::ranges::sort(found);
    return found;
}

// The errors of a file, by the beginning of its name read as a design or as a file of parts.
Errors errors_of(const fs::path& path) {
    if (path.filename().string().starts_with("design-")) return Build{text_of(path)}.design.errors;
    Sources sources;
    Catalog catalog;
    const SourceFile file = sources.add(path.filename().string(), text_of(path));
    Errors errors = catalog.add_file(sources, "test", file.name, file.text, true);
    for (const std::string_view name : catalog.names()) {
        const Errors& more = catalog.find(name)->errors;
        errors.insert(errors.end(), more.begin(), more.end());
    }
    return errors;
}

bool reader_is_known(const fs::path& path) {
    const std::string name = path.filename().string();
    return name.starts_with("design-") || name.starts_with("part-");
}

TEST(BadInput, EveryErrorHasItsMarkerAndEveryMarkerItsError) {
    std::size_t checked = 0;
    for (const fs::path& path : files()) {
        if (!reader_is_known(path)) continue;
        ++checked;
        Errors errors = errors_of(path);
        for (const Marker& marker : markers_of(text_of(path))) {
            const auto matching = [&](const InputError& error) {
                return error.place.line == marker.line &&
                       fmt::format("{} [{}]", error.message, error.hint).find(marker.fragment) != std::string::npos;
            };
            const auto found = std::ranges::find_if(errors, matching);
            EXPECT_NE(found, errors.end())
                << path.filename() << ":" << marker.line << ": no error with '" << marker.fragment << "'";
            if (found != errors.end()) errors.erase(found);
        }
        EXPECT_TRUE(errors.empty()) << path.filename() << " has errors without a marker:\n" << to_text(errors);
    }
    EXPECT_GE(checked, 10U);
}

TEST(BadInput, EveryKindOfErrorIsShown) {
    std::set<ErrorKind> shown;
    for (const fs::path& path : files()) {
        if (!reader_is_known(path)) continue;
        for (const InputError& error : errors_of(path)) shown.insert(error.kind);
    }
    // These need a file that is no text, larger than the limits or missing, or belong to rules.
    const std::set<ErrorKind> elsewhere{ErrorKind::unreadable_file, ErrorKind::not_text, ErrorKind::bad_expression};
    for (std::size_t i = 0; i < error_kind_texts.size(); ++i) {
        const auto kind = static_cast<ErrorKind>(i);
        EXPECT_TRUE(shown.contains(kind) || elsewhere.contains(kind)) << error_kind_texts.at(i);
    }
}

TEST(BadInput, EveryErrorIsAPlainSentenceWithAPlace) {
    for (const fs::path& path : files()) {
        if (!reader_is_known(path)) continue;
        for (const InputError& error : errors_of(path)) {
            EXPECT_FALSE(error.message.empty());
            EXPECT_NE(error.message.back(), '.') << error.message;
            EXPECT_EQ(error.place.line == 0, error.place.column == 0) << error.message;
            EXPECT_EQ(error.hint.ends_with(' '), false) << error.hint;
        }
    }
}

} // namespace
} // namespace trivet
