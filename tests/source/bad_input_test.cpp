#include "source/document.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

// Files of tests/bad-input/ whose name begins with "syntax-": every error has a mark `#~ error "fragment"` at the end
// of its line (`#~^` for the line above), and every mark has its error.

namespace trivet {
namespace {

struct Mark {
    std::uint32_t line;
    std::string fragment;
    bool met = false;
};

std::vector<Mark> marks_of(std::string_view text) {
    std::vector<Mark> marks;
    std::uint32_t line = 1;
    for (std::size_t begin = 0; begin < text.size(); ++line) {
        const std::size_t end = std::min(text.find('\n', begin), text.size());
        const std::string_view content = text.substr(begin, end - begin);
        const std::size_t mark = content.find("#~");
        if (mark != std::string_view::npos) {
            const std::size_t open = content.find('"', mark);
            const bool above = content.substr(mark).starts_with("#~^");
            marks.push_back(
                {above ? line - 1 : line, std::string(content.substr(open + 1, content.rfind('"') - open - 1))});
        }
        begin = end + 1;
    }
    return marks;
}

void expect_marks(const std::filesystem::path& path) {
    SCOPED_TRACE(path.filename().string());
    std::ifstream input(path, std::ios::binary);
    Sources sources;
    const SourceFile file = sources.add(path.filename().string(), {std::istreambuf_iterator<char>(input), {}});
    std::vector<Mark> marks = marks_of(file.text);
    EXPECT_FALSE(marks.empty());
    for (const InputError& error : parse_document(file).errors) {
        bool expected = false;
        for (Mark& mark : marks) {
            const bool fits = mark.line == error.place.line && error.message.find(mark.fragment) != std::string::npos;
            mark.met = mark.met || fits;
            expected = expected || fits;
        }
        EXPECT_TRUE(expected) << error.place.line << ":" << error.place.column << ": " << error.message;
    }
    for (const Mark& mark : marks) EXPECT_TRUE(mark.met) << mark.line << ": " << mark.fragment;
}

TEST(BadInput, SyntaxErrorsStandAtTheirMarks) {
    std::size_t files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(TRIVET_SOURCE_DIR "/tests/bad-input")) {
        if (!entry.path().filename().string().starts_with("syntax-")) continue;
        expect_marks(entry.path());
        ++files;
    }
    EXPECT_GE(files, 2U);
}

} // namespace
} // namespace trivet
