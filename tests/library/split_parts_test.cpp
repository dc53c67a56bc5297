#include "library/split_parts.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet {
namespace {

// "name@first_line(length)" for every part, then "!line" for every stray line.
std::string to_text(const PartSplit& split) {
    std::string out;
    for (const PartLines& part : split.parts) {
        out +=
            std::string(part.name) + "@" + std::to_string(part.first_line) + "(" + std::to_string(part.length) + ") ";
    }
    for (const StrayLine& stray : split.strays) out += "!" + std::to_string(stray.line) + " ";
    return out;
}

struct Case {
    std::string_view what;
    std::string_view text;
    std::string_view expected;
};

// How TOML names and nests tables: TOML 1.0.0, "Table" and "Array of Tables".
constexpr Case cases[] = {
    {"nothing", "", ""},
    {"only a comment", "# fuses\n", ""},
    {"one part", "[a]\nx = 1\n", "a@1(10) "},
    {"a comment before the first part", "# fuses\n[a]\n", "a@2(4) "},
    {"two parts", "[a]\nx = 1\n\n[b]\ny = 2\n", "a@1(11) b@4(10) "},
    {"elements belong to their part", "[a]\n[[a.element]]\nk = 1\n[[a.element]]\n[b]\n", "a@1(38) b@5(4) "},
    {"terminals belong to their part", "[a]\n[a.terminal.\"+\"]\nk = 1\n[b]\n", "a@1(27) b@4(4) "},
    {"quoted name with a dot", "[\"w-1.0mm2\"]\n[[\"w-1.0mm2\".element]]\n[b]\n", "w-1.0mm2@1(36) b@3(4) "},
    {"blanks inside the brackets", "[ a ]\n[[ a . element ]]\n[b]\n", "a@1(24) b@3(4) "},
    {"indented header", "  [a]\n", "a@1(4) "},
    {"a header inside a multi-line text", "[a]\nx = \"\"\"\n[b]\n\"\"\"\n[c]\n", "a@1(20) c@5(4) "},
    {"a header inside a literal multi-line text", "[a]\nx = '''\n[b]\n'''\n[c]\n", "a@1(20) c@5(4) "},
    {"a header inside a list", "[a]\nx = [\n[\"b\"],\n]\n[c]\n", "a@1(19) c@5(4) "},
    {"a header inside a comment", "[a]\n# [b]\n[c]\n", "a@1(10) c@3(4) "},
    {"same name twice is kept twice", "[a]\n[a]\n", "a@1(4) a@2(4) "},
    {"Windows line ends", "[a]\r\nx = 1\r\n[b]\r\n", "a@1(12) b@3(5) "},
    {"no line end at the end", "[a]\nx = 1", "a@1(9) "},
    {"a value before the first part", "x = 1\n[a]\n", "a@2(4) !1 "},
    {"an element before its part", "[[a.element]]\n[a]\n", "a@2(4) !1 "},
    {"an element of another part", "[a]\n[[b.element]]\n", "a@1(18) !2 "},
    {"a name with a dot that lacks quotes", "[a]\n[w-1.0mm2]\n", "a@1(15) !2 "},
};

TEST(SplitParts, FindsWhereEachPartStandsAndEnds) {
    for (const Case& row : cases) EXPECT_EQ(to_text(split_parts(row.text)), row.expected) << row.what;
}

TEST(SplitParts, PiecesAreTheTextFromTheFirstHeaderOn) {
    const std::string_view text = "# head\n[a]\nx = 1\n\n[[a.element]]\n[b]\n[c]\ny = 'z'";
    std::string joined;
    for (const PartLines& part : split_parts(text).parts) joined += text.substr(part.offset, part.length);
    EXPECT_EQ(joined, text.substr(7));
}

TEST(SplitParts, SurvivesTextThatIsNotToml) {
    for (const std::string_view text :
         {"[", "[[", "[]", "[\"", "[a", "[a.", "]", "=", "[[a]\n[b]]", "\"\"\"", "\xff[a]\n"}) {
        const PartSplit split = split_parts(text);
        for (const PartLines& part : split.parts) EXPECT_LE(part.offset + part.length, text.size()) << text;
    }
}

} // namespace
} // namespace trivet
