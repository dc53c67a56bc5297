#include "support/check_text.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>

namespace trivet::testing {
namespace {

std::string example(std::string_view name) { return TRIVET_SOURCE_DIR "/examples/" + std::string(name) + ".toml"; }

std::set<std::string> failing(const Checked& checked) {
    std::set<std::string> rules;
    for (const Finding& finding : checked.assessment.findings)
        if (finding.verdict != Verdict::pass) rules.insert(finding.rule->name);
    rules.erase("converter-failure-is-survived"); // advice to every board behind a converter without isolation
    return rules;
}

TEST(Examples, AreWhatTheirFirstLineSays) {
    std::size_t read = 0;
    for (const auto& entry : std::filesystem::directory_iterator(TRIVET_SOURCE_DIR "/examples")) {
        if (entry.path().extension() != ".toml") continue;
        SCOPED_TRACE(entry.path().filename().string());
        std::string first;
        std::getline(std::ifstream(entry.path()), first);
        Checked checked;
        check_file(checked, entry.path().string());
        const bool fit = checked.assessment.fitness == Fitness::fit;
        EXPECT_TRUE(first.ends_with(fit ? "Verdict: fit." : "Verdict: not fit.")) << first;
        ++read;
    }
    EXPECT_GE(read, 9U);
}

// Each of these shows one mistake: what fails is that mistake, and what it leads to.
struct Lesson {
    const char* example;
    std::set<std::string> fails;
};

class Lessons : public ::testing::TestWithParam<Lesson> {};

TEST_P(Lessons, FailForTheirOneMistake) {
    Checked checked;
    check_file(checked, example(GetParam().example));
    EXPECT_EQ(failing(checked), GetParam().fails);
}

INSTANTIATE_TEST_SUITE_P(
    Examples, Lessons,
    ::testing::Values(Lesson{"coil-thermostat", {"cutoff-interrupts-heater", "body-limit-when-stuck"}},
                      Lesson{"cutoff-on-the-wrong-body", {"cutoff-trips-in-time", "body-limit-when-stuck"}},
                      Lesson{"bonded-plate", {"cutoff-holds-through-single-faults"}}, Lesson{"guarded-dry-box", {}}),
    [](const ::testing::TestParamInfo<Lesson>& lesson) {
        std::string name = lesson.param.example;
        std::erase(name, '-');
        return name;
    });

// The way out that the comment in the example names: the same link, moved to the plate.
TEST(Examples, TheLinkOnTheWallIsMendedByMovingIt) {
    std::ifstream file(example("cutoff-on-the-wrong-body"));
    std::string text(std::istreambuf_iterator<char>(file), {});
    const std::string wrong = "is = \"thermal-link-dc-128c\"\nmounted_on = \"cabinet\"";
    const auto at = text.find(wrong);
    ASSERT_NE(at, std::string::npos);
    text.replace(at, wrong.size(), "is = \"thermal-link-dc-128c\"\nmounted_on = \"hotplate\"");
    Checked checked;
    check_text(checked, "mended.toml", text);
    EXPECT_TRUE(failing(checked).empty());
}

TEST(Examples, NameWhoTurnsTheHeatOff) {
    Checked checked;
    check_file(checked, example("propagation-mat"));
    const auto& heaters = checked.assessment.single_faults.heaters;
    ASSERT_EQ(heaters.size(), 1U);
    EXPECT_EQ(heaters[0].heater, "mat");
    ASSERT_EQ(heaters[0].guards.size(), 2U);
    const HeatGuard& cutoff = heaters[0].guards[0].device == "over_temp" ? heaters[0].guards[0] : heaters[0].guards[1];
    const HeatGuard& control = heaters[0].guards[0].device == "over_temp" ? heaters[0].guards[1] : heaters[0].guards[0];
    EXPECT_EQ(cutoff.by, ActuatedBy::heat);
    EXPECT_TRUE(cutoff.independent);
    EXPECT_EQ(control.device, "heat_switch");
    EXPECT_EQ(control.by, ActuatedBy::pin);
    EXPECT_EQ(control.pins, std::vector<std::string>{"board.IO16"});
    EXPECT_EQ(control.controls, std::vector<std::string>{"hold the tray"});
    EXPECT_EQ(control.sensors, std::vector<std::string>{"probe"});
    EXPECT_FALSE(control.independent);
}

} // namespace
} // namespace trivet::testing
