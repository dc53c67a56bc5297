#include "support/run_program.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet::testing {
namespace {

RunOutcome faults(std::vector<std::string> words) {
    words.insert(words.begin(), "faults");
    return run_program(TRIVET_PROGRAM, words, TRIVET_SOURCE_DIR);
}

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

const std::string mat = "examples/propagation-mat.toml";
const std::string plate = "examples/salvaged-plate.toml";

TEST(FaultsCommand, ASoundBuildHasNoHazardButALatentFaultMakesOne) {
    const RunOutcome single = faults({mat});
    EXPECT_EQ(single.exit_status, 0) << single.errors;
    EXPECT_TRUE(has(single.output, "mat stays on; over_temp opens after")) << single.output;
    EXPECT_TRUE(has(single.output, "LATENT (2)")) << single.output;
    EXPECT_FALSE(has(single.output, "\x1b")) << "no colour outside a terminal";
    const RunOutcome pairs = faults({mat, "--pairs"});
    EXPECT_EQ(pairs.exit_status, 1);
    EXPECT_TRUE(has(pairs.output, "while over_temp never opens: mat stays on; nothing stops it")) << pairs.output;
}

TEST(FaultsCommand, AHazardIsExitStatusOneEvenWhereItIsNotShown) {
    EXPECT_EQ(faults({plate}).exit_status, 1);
    const RunOutcome latent = faults({plate, "--only", "latent"});
    EXPECT_EQ(latent.exit_status, 1);
    EXPECT_FALSE(has(latent.output, "HAZARD")) << latent.output;
    EXPECT_TRUE(has(latent.output, "thermostat never opens")) << latent.output;
}

TEST(FaultsCommand, TakesClassesWithCommasOrOneByOneWithSpacesOrHyphens) {
    const std::string expected = faults({mat, "--only", "stops working", "--only", "damage"}).output;
    EXPECT_TRUE(has(expected, "DAMAGE")) << expected;
    EXPECT_TRUE(has(expected, "STOPS WORKING")) << expected;
    EXPECT_FALSE(has(expected, "LATENT")) << expected;
    EXPECT_EQ(faults({mat, "--only", "stops-working,damage"}).output, expected);
    EXPECT_EQ(faults({"--only", "stops-working,damage", mat}).output, expected);
}

TEST(FaultsCommand, RefusesUnknownClassesAndFormats) {
    for (const auto& words : {std::vector<std::string>{mat, "--only", "fire"}, {mat, "--format", "yaml"}, {}}) {
        const RunOutcome outcome = faults(words);
        EXPECT_EQ(outcome.exit_status, 2);
        EXPECT_TRUE(outcome.output.empty()) << outcome.output;
    }
    EXPECT_TRUE(has(faults({mat, "--only", "fire"}).errors, "'stays safe'"));
}

TEST(FaultsCommand, SaysWhatItCannotRead) {
    const RunOutcome outcome = faults({"examples/no-such-design.toml"});
    EXPECT_EQ(outcome.exit_status, 2);
    EXPECT_TRUE(has(outcome.errors, "there is no file of this name")) << outcome.errors;
}

TEST(FaultsCommand, FollowsNothingInARefusedDesign) {
    const RunOutcome outcome = faults({"tests/rules/no-mains/fail.toml"});
    EXPECT_EQ(outcome.exit_status, 1);
    EXPECT_TRUE(has(outcome.errors, "refused")) << outcome.errors;
}

TEST(FaultsCommand, WritesEveryFormat) {
    EXPECT_TRUE(faults({mat, "--format", "json"}).output.starts_with("{\"trivet\":1,"));
    EXPECT_TRUE(faults({mat, "--format", "csv"}).output.starts_with("outcome,fault,"));
    EXPECT_TRUE(faults({mat, "--format", "markdown"}).output.starts_with("# Propagation mat: "));
    EXPECT_TRUE(has(faults({mat, "--all"}).output, "\n  heat_switch shorted: mat stays on;"));
}

} // namespace
} // namespace trivet::testing
