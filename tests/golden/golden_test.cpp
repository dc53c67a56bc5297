#include "support/golden.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace trivet::testing {
namespace {

const std::filesystem::path root = TRIVET_SOURCE_DIR;

std::vector<GoldenCase> cases() { return golden_cases(root / "tests/golden"); }

std::string stored(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

TEST(Golden, HasCases) {
    EXPECT_FALSE(cases().empty());
    for (const GoldenCase& golden : cases()) {
        EXPECT_TRUE(std::filesystem::exists(golden.folder / "cmd")) << golden.folder << " lacks the file cmd";
    }
}

TEST(Golden, IsNeverRewrittenInContinuousIntegration) {
    EXPECT_NE(blessing(std::getenv("TRIVET_BLESS"), std::getenv("CI")), Blessing::refused);
    EXPECT_EQ(blessing("1", "true"), Blessing::refused);
    EXPECT_EQ(blessing("1", nullptr), Blessing::asked);
    EXPECT_EQ(blessing("1", ""), Blessing::asked);
    EXPECT_EQ(blessing(nullptr, nullptr), Blessing::not_asked);
    EXPECT_EQ(blessing("", nullptr), Blessing::not_asked);
}

class GoldenOutput : public ::testing::TestWithParam<GoldenCase> {};

TEST_P(GoldenOutput, IsAsExpected) {
    const GoldenCase& golden = GetParam();
    const RunOutcome outcome = run_program(TRIVET_PROGRAM, golden.arguments, root);
    const std::string actual = golden_text(outcome, {{TRIVET_VERSION, "VERSION"}, {root.string(), "ROOT"}});
    const std::filesystem::path file = golden.folder / "expected.txt";
    if (blessing(std::getenv("TRIVET_BLESS"), std::getenv("CI")) == Blessing::asked) {
        if (actual != stored(file)) std::ofstream(file, std::ios::binary) << actual;
        return;
    }
    EXPECT_EQ(actual, stored(file)) << file.string() << ", " << first_difference(stored(file), actual)
                                    << "\nif the new output is right, run: ./dev bless";
}

INSTANTIATE_TEST_SUITE_P(Cases, GoldenOutput, ::testing::ValuesIn(cases()), [](const auto& instance) {
    std::string name = instance.param.name;
    for (char& c : name) c = c == '-' ? '_' : c;
    return name;
});

TEST(GoldenText, StatesTheExitStatusThenBothStreams) {
    EXPECT_EQ(golden_text({0, "fine\n", ""}, {}), "exit: 0\nfine\n");
    EXPECT_EQ(golden_text({2, "", "no such file\n"}, {}), "exit: 2\n--- stderr\nno such file\n");
    EXPECT_EQ(golden_text({1, "a/b/x v1.2 v1.2\n", "a/b"}, {{"1.2", "VERSION"}, {"a/b", "ROOT"}}),
              "exit: 1\nROOT/x vVERSION vVERSION\n--- stderr\nROOT");
}

TEST(GoldenText, NamesTheFirstLineThatDiffers) {
    EXPECT_EQ(first_difference("a\nb\n", "a\nc\n"), "line 2: expected 'b', got 'c'");
    EXPECT_EQ(first_difference("a\n", "a\nc\n"), "line 2: expected the end, got 'c'");
    EXPECT_EQ(first_difference("a\nb\n", "a\n"), "line 2: expected 'b', got the end");
    EXPECT_EQ(first_difference("a\n", "a"), "line breaks at the end");
}

TEST(RunProgram, GivesStatusAndBothStreams) {
    const RunOutcome outcome = run_program("/bin/sh", {"-c", "echo out; echo err >&2; read x || exit 3"}, root);
    EXPECT_EQ(outcome.exit_status, 3);
    EXPECT_EQ(outcome.output, "out\n");
    EXPECT_EQ(outcome.errors, "err\n");
    EXPECT_EQ(run_program("/bin/sh", {"-c", "kill -9 $$"}, root).exit_status, 128 + 9);
    EXPECT_EQ(run_program("/bin/sh", {"-c", "pwd"}, root).output, root.string() + "\n");
    EXPECT_EQ(run_program("/no/such/program", {}, root).exit_status, 127);
}

} // namespace
} // namespace trivet::testing
