#include "source/document.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

// The rules of the format come from TOML v1.0.0 (toml.io); UTF-8 from RFC 3629. Sentences and places are Trivet's own.

namespace trivet {
namespace {

struct Expected {
    std::uint32_t line;
    std::uint32_t column;
    ErrorKind kind;
    std::string message;
    std::string hint = {};
};

struct Row {
    std::string what;
    std::string text;
    std::vector<Expected> errors;
};

Loaded<Document> read(Sources& sources, const std::string& text, const DocumentLimits& limits = {}) {
    return parse_document(sources.add("design.toml", text), limits);
}

void expect_errors(const Row& row, const DocumentLimits& limits = {}) {
    SCOPED_TRACE(row.what);
    Sources sources;
    const Loaded<Document> loaded = read(sources, row.text, limits);
    ASSERT_TRUE(loaded.value.has_value());
    ASSERT_EQ(loaded.errors.size(), row.errors.size());
    for (std::size_t i = 0; i < row.errors.size(); ++i) {
        const InputError& error = loaded.errors[i];
        EXPECT_EQ(error.place.line, row.errors[i].line) << error.message;
        EXPECT_EQ(error.place.column, row.errors[i].column) << error.message;
        EXPECT_EQ(error.kind, row.errors[i].kind) << error.message;
        EXPECT_NE(error.message.find(row.errors[i].message), std::string::npos) << error.message;
        EXPECT_NE(error.hint.find(row.errors[i].hint), std::string::npos) << error.hint;
        EXPECT_FALSE(error.message.ends_with('.')) << error.message;
    }
}

TEST(SyntaxErrors, NameTheSlipInAValue) {
    const std::vector<Row> rows{
        {"symbol without quotes",
         "watts = 5 Ω\n",
         {{1, 11, ErrorKind::unit_outside_text, "'Ω' stands outside quotes", "\"5 Ω\""}}},
        {"degree sign", "t = 75 °C # warm\n", {{1, 8, ErrorKind::unit_outside_text, "'°'", "\"75 °C\""}}},
        {"curly quotes", "colour = “red”\n", {{1, 10, ErrorKind::unit_outside_text, "'“'", "\"red\""}}},
        {"symbol in a list", "a = [\"1 Ω\", 2 Ω]\n", {{1, 15, ErrorKind::unit_outside_text, "'Ω'", "\"2 Ω\""}}},
        {"symbol after the quotes", "a = \"75\" °C\n", {{1, 10, ErrorKind::unit_outside_text, "'°'", "\"75 °C\""}}},
        {"no-break space",
         "a =\u00A05\n",
         {{1, 4, ErrorKind::unit_outside_text, "invisible character (U+00A0)", "ordinary space"}}},
        {"quantity without quotes",
         "length = 25 cm\n",
         {{1, 10, ErrorKind::unit_outside_text, "'25 cm'", "\"25 cm\""}}},
        {"no space", "length = 25cm # long\n", {{1, 10, ErrorKind::unit_outside_text, "'25cm'", "\"25cm\""}}},
        {"range without quotes",
         "r = 9.3..9.7 ohm\n",
         {{1, 5, ErrorKind::unit_outside_text, "'9.3..9.7 ohm'", "\"9.3..9.7 ohm\""}}},
        {"quantity in braces",
         "a = { b = 10 A, c = 1 }\n",
         {{1, 11, ErrorKind::unit_outside_text, "'10 A'", "\"10 A\""}}},
        {"word without quotes",
         "colour = red\n",
         {{1, 10, ErrorKind::syntax, "'red' stands without quotes", "\"red\""}}},
        {"yes", "attended = yes\n", {{1, 12, ErrorKind::syntax, "'yes'", "write true"}}},
        {"False", "attended = False\n", {{1, 12, ErrorKind::syntax, "'False'", "write false"}}},
        {"decimal comma", "factor = 0,8\n", {{1, 10, ErrorKind::syntax, "decimal comma", "write 0.8"}}},
        {"decimal comma and unit", "mass = 1,5 kg\n", {{1, 8, ErrorKind::syntax, "decimal comma", "\"1.5 kg\""}}},
        {"text after the quotes",
         "a = \"5\" V\n",
         {{1, 5, ErrorKind::syntax, "follows the closing quote: V", "\"5 V\""}}},
        {"no value", "a =\nb = 1\n", {{1, 3, ErrorKind::syntax, "'a' has no value"}}},
        {"backslash", "a = \"c:\\dir\"\n", {{1, 9, ErrorKind::syntax, "backslash", "single quotes"}}},
        {"impossible month", "d = 2024-13-01\n", {{1, 12, ErrorKind::syntax, "month between 1 and 12"}}},
        {"leading zero", "n = 01\n", {{1, 7, ErrorKind::syntax, "leading zeroes"}}},
    };
    for (const Row& row : rows) expect_errors(row);
}

TEST(SyntaxErrors, NameWhatIsNotClosed) {
    const std::vector<Row> rows{
        {"text", "a = \"abc\nb = 1\n", {{1, 5, ErrorKind::syntax, "no closing quote", "put \" at"}}},
        {"literal text", "a = 'abc\nb = 1\n", {{1, 5, ErrorKind::syntax, "no closing quote", "put ' at"}}},
        {"long text",
         "a = 1\nb = \"\"\"x\ny\n[c]\nd = 25 cm\n",
         {{2, 5, ErrorKind::syntax, "no closing quote", "\"\"\""}, {5, 5, ErrorKind::unit_outside_text, "'25 cm'"}}},
        {"list before a key",
         "a = [1, 2\nb = 3 cm\n",
         {{1, 5, ErrorKind::syntax, "list", ""}, {2, 5, ErrorKind::unit_outside_text, "'3 cm'"}}},
        {"list before a header", "a = [\n  1,\n[b]\nc = 1\n", {{1, 5, ErrorKind::syntax, "no closing ]"}}},
        {"list at the end", "a = [1,\n2,\n", {{1, 5, ErrorKind::syntax, "no closing ]"}}},
        {"braces", "a = { b = 1\nc = 2\n", {{1, 5, ErrorKind::syntax, "on one line"}}},
        {"braces over lines",
         "a = {\n  b = 1,\n}\nc = 2 V\n",
         {{1, 5, ErrorKind::syntax, "on one line"}, {4, 5, ErrorKind::unit_outside_text, "'2 V'"}}},
        {"header", "[part.supply\na = 1\n", {{1, 1, ErrorKind::syntax, "no closing bracket", "write [part.supply]"}}},
        {"header of a list",
         "[[wire] # first\na = 1\n",
         {{1, 1, ErrorKind::syntax, "no closing bracket", "write [[wire]]"}}},
        {"no equals",
         "length 25 cm\n",
         {{1, 1, ErrorKind::syntax, "no '=' between the key 'length'", "length = \"25 cm\""}}},
        {"colon", "length: 25 cm\n", {{1, 1, ErrorKind::syntax, "no '='", "length = \"25 cm\""}}},
        {"a lone word", "a = 1\nlength\n", {{2, 1, ErrorKind::syntax, "'length' is neither"}}},
        {"empty header", "[]\na = 1\n", {{1, 2, ErrorKind::syntax, "blank bare keys"}}},
        {"lone carriage return", "a = 1\rb = 2\n", {{1, 6, ErrorKind::syntax, "carriage return"}}},
        {"symbol in a header", "[part.größe]\na = 1\n", {{1, 9, ErrorKind::unit_outside_text, "'ö'", "a to z"}}},
        {"symbol in a key", "größe = 1\n", {{1, 3, ErrorKind::unit_outside_text, "'ö'", "a to z"}}},
    };
    for (const Row& row : rows) expect_errors(row);
}

TEST(SyntaxErrors, NameTheLineOfTheFirstDefinition) {
    const std::vector<Row> rows{
        {"key", "a = 1\nbc = 2\n  a = 3\n", {{3, 3, ErrorKind::duplicate_name, "'a' is already defined on line 1"}}},
        {"key in a section",
         "[x]\na = 1\n[y]\na = 1\nb = 2\na = 3\n",
         {{6, 1, ErrorKind::duplicate_name, "on line 4"}}},
        {"key in the second of a list",
         "[[w]]\na = 1\n[[w]]\na = 1\na = 2\n",
         {{5, 1, ErrorKind::duplicate_name, "on line 4"}}},
        {"section",
         "[part.a]\n[part.b]\n[part.a]\nx = 1\n",
         {{3, 7, ErrorKind::duplicate_name, "'a' is already defined on line 1"}}},
        {"quoted section", "[part.a]\n[part.\"a\"]\n", {{2, 7, ErrorKind::duplicate_name, "on line 1"}}},
        {"section against a value", "a = 1\n[a]\n", {{2, 2, ErrorKind::duplicate_name, "on line 1"}}},
        {"list against a section", "[wire]\n[[wire]]\n", {{2, 3, ErrorKind::duplicate_name, "on line 1"}}},
        {"dotted key",
         "a.b = 1\na.c = 2\na.b = 3\n",
         {{3, 3, ErrorKind::duplicate_name, "'b' is already defined on line 1"}}},
        {"in braces", "a = { b = 1, c = 2, b = 3 }\n", {{1, 21, ErrorKind::duplicate_name, "'b' stands twice"}}},
    };
    for (const Row& row : rows) expect_errors(row);
}

TEST(SyntaxErrors, NumbersAreFinite) {
    expect_errors({"nan and inf",
                   "a = nan\n[b]\nc = [1.0, -inf]\n",
                   {{1, 5, ErrorKind::out_of_range, "'a' is nan, which is not a finite number"},
                    {3, 11, ErrorKind::out_of_range, "not a finite number"}}});
}

TEST(SyntaxErrors, FilesThatAreNotText) {
    using namespace std::string_literals;
    const std::vector<Row> rows{
        {"NUL", "a = 1\nb = \"\0\"\n"s, {{2, 6, ErrorKind::not_text, "NUL byte"}}},
        {"Latin-1", "a = \"75 \xB0"s + "C\"\n", {{1, 9, ErrorKind::not_text, "0xB0 is not UTF-8", "UTF-8"}}},
        {"overlong form, RFC 3629 section 3", "a = \"\xC0\xAF\"\n", {{1, 6, ErrorKind::not_text, "0xC0"}}},
        {"surrogate, RFC 3629 section 3", "a = \"\xED\xA0\x80\"\n", {{1, 6, ErrorKind::not_text, "0xED"}}},
        {"cut short", "a = 1 # \xE2\x82", {{1, 9, ErrorKind::not_text, "0xE2"}}},
        {"UTF-16",
         "\xFF\xFE"
         "a\0 \0"s,
         {{0, 0, ErrorKind::not_text, "UTF-16"}}},
        {"binary",
         "\x7F"
         "ELF\x02\x01\x01\0\0\0"s,
         {{1, 8, ErrorKind::not_text, "not a text file"}}},
    };
    for (const Row& row : rows) expect_errors(row);
}

TEST(SyntaxErrors, Limits) {
    expect_errors({"bytes", "a = 1\nb = 2\n", {{0, 0, ErrorKind::too_large, "12 bytes; Trivet accepts 10"}}},
                  {.bytes = 10});
    expect_errors(
        {"line",
         "a = 1\nb = \"" + std::string(70'000, 'x') + "\"\nc = 1 V\n",
         {{2, 1, ErrorKind::too_large, "this line has 70006 bytes"}, {3, 5, ErrorKind::unit_outside_text, "'1 V'"}}});
    expect_errors(
        {"comment line",
         "a = 1\n#" + std::string(70'000, 'x') + "\nc = 1 V\n",
         {{2, 1, ErrorKind::too_large, "this line has 70001 bytes"}, {3, 5, ErrorKind::unit_outside_text, "'1 V'"}}});
    expect_errors({"60 KB line is fine", "b = \"" + std::string(60'000, 'x') + "\"\n", {}});

    std::string path;
    for (int i = 0; i < 30'000; ++i) path += "a.";
    expect_errors({"dotted key", path + "b = 1\nc = 2\n", {{1, 1, ErrorKind::too_deep, "16 names"}}});
    expect_errors({"dotted header", "[" + path + "b]\nc = 2\n", {{1, 1, ErrorKind::too_deep, "16 names"}}});
    expect_errors({"dotted key in braces", "x = { " + path + "b = 1 }\n", {{1, 1, ErrorKind::too_deep, "16 names"}}});
    expect_errors({"16 names are fine", "a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a = 1\n", {}});

    const std::string deep(33, '[');
    expect_errors({"lists", "a = " + deep + std::string(33, ']') + "\n", {{1, 37, ErrorKind::too_deep, "32 deep"}}});
    expect_errors({"32 lists are fine", "a = " + std::string(32, '[') + std::string(32, ']') + "\n", {}});
}

TEST(SyntaxErrors, AllOfAFileAtOnce) {
    expect_errors({"ten slips",
                   "trivet = 1\n[build]\nambient = 10 C\ntitle = \"a\ntitle = \"b\"\n[[wire]\nfrom = x\n"
                   "[[wire]]\nfrom = \"a\" b\nto ='c'\nto = 'd'\n[build]\npurpose = 5 %\nlist = [1 2]\n",
                   {{3, 11, ErrorKind::unit_outside_text, "'10 C'"},
                    {4, 9, ErrorKind::syntax, "no closing quote"},
                    {5, 1, ErrorKind::duplicate_name, "'title' is already defined on line 4"},
                    {6, 1, ErrorKind::syntax, "no closing bracket"},
                    {7, 8, ErrorKind::syntax, "'x' stands without quotes"},
                    {9, 8, ErrorKind::syntax, "follows the closing quote"},
                    {11, 1, ErrorKind::duplicate_name, "on line 10"},
                    {12, 2, ErrorKind::duplicate_name, "'build' is already defined on line 2"},
                    {13, 11, ErrorKind::unit_outside_text, "'5 %'"},
                    {14, 9, ErrorKind::unit_outside_text, "'1 2'"}}});
}

TEST(SyntaxErrors, StopAtTheLimitAndSaySo) {
    std::string text;
    for (int i = 0; i < 50; ++i) text += "k" + std::to_string(i) + " = 5 V\n";
    Sources sources;
    const Loaded<Document> loaded = read(sources, text);
    ASSERT_EQ(loaded.errors.size(), 21U);
    EXPECT_EQ(loaded.errors.back().message, "the rest of the file was not tried");
    EXPECT_EQ(loaded.errors.back().place.line, 20U);
    EXPECT_TRUE(loaded.value->incomplete);
}

} // namespace
} // namespace trivet
