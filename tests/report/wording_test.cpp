#include "report/wording.h"

#include "report/errors.h"
#include "report/json.h"

#include <gtest/gtest.h>

#include <sstream>

namespace trivet {
namespace {

TEST(Wording, CountsInWords) {
    Tally tally;
    EXPECT_EQ(in_words(tally), "nothing fails");
    tally.failed = {3, 1, 0, 0};
    EXPECT_EQ(in_words(tally), "3 hazards and 1 damage fail");
    tally.failed = {1, 0, 0, 0};
    tally.untold = {0, 2, 1, 0};
    EXPECT_EQ(in_words(tally), "1 hazard fails, 2 damages and 1 malfunction cannot be told");
}

TEST(Wording, WrapsAtWordsUnderTheLabel) {
    EXPECT_EQ(wrapped("do  ", "use a thicker wire here", 2, 20), "  do  use a thicker\n      wire here\n");
    EXPECT_EQ(wrapped("", "unbreakableunbreakable", 0, 10), "unbreakableunbreakable\n");
}

TEST(Wording, NoLineOfWrappedTextIsLongerThanTheWidth) {
    const std::string text = wrapped(
        "why    ",
        "A wire heats up with the square of its current. Too much softens the insulation, which ages and melts.", 4,
        60);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 60U) << line;
}

TEST(ErrorText, ShowsPlaceMessageSourceLineAndHint) {
    Sources sources;
    const SourceFile file = sources.add("mat.toml", "a = 1\nlength = \"25 volt\"\n");
    const Errors errors{{ErrorKind::bad_quantity, {file.id, 2, 11}, "'25 volt' is a voltage", "write \"25 cm\""}};
    EXPECT_EQ(text_of_errors(errors, sources, false), "mat.toml:2:11: error: '25 volt' is a voltage.\n    length = "
                                                      "\"25 volt\"\n              ^\n    write \"25 cm\"\n");
}

TEST(ErrorText, TheCaretCountsCodePointsAndKeepsTabs) {
    Sources sources;
    const SourceFile file = sources.add("mat.toml", "\tt = \"5 Ω\" x\n");
    const Errors errors{{ErrorKind::syntax, {file.id, 1, 12}, "here", {}}};
    EXPECT_EQ(text_of_errors(errors, sources, false),
              "mat.toml:1:12: error: here.\n    \tt = \"5 Ω\" x\n    \t          ^\n");
}

TEST(ErrorText, AWholeFileHasNoLine) {
    Sources sources;
    const SourceFile file = sources.add("missing.toml", "");
    const Errors errors{
        {ErrorKind::unreadable_file, {file.id, 0, 0}, "there is no file of this name", "check the spelling"}};
    EXPECT_EQ(text_of_errors(errors, sources, false),
              "missing.toml: error: there is no file of this name.\n    check the spelling\n");
}

TEST(JsonErrors, NameKindPlaceAndHint) {
    Sources sources;
    const SourceFile file = sources.add("mat.toml", "x\n");
    const Errors errors{
        {ErrorKind::unknown_name, {file.id, 1, 1}, "there is no part 'relai'", "did you mean 'relay'?"}};
    const std::string text = json_errors(errors, sources, "mat.toml");
    for (const auto piece :
         {"\"verdict\": \"not read\"", "\"kind\": \"a name is not known\"", "\"line\": 1", "did you mean 'relay'?"})
        EXPECT_NE(text.find(piece), std::string::npos) << piece << " in " << text;
}

} // namespace
} // namespace trivet
