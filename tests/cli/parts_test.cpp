#include "support/run_program.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

RunOutcome parts(std::vector<std::string> words) {
    words.insert(words.begin(), "parts");
    return run_program(TRIVET_PROGRAM, words, ".");
}

// The line of a list that begins with a part's name; empty when the part is not listed.
std::string line_of(const std::string& list, const std::string& part) {
    const std::size_t at = list.find("\n  " + part + " ");
    if (at == std::string::npos) return {};
    return list.substr(at + 1, list.find('\n', at + 1) - at - 1);
}

void expect_holds(const std::string& text, std::string_view piece) {
    EXPECT_NE(text.find(piece), std::string::npos) << "no '" << piece << "' in\n" << text;
}

TEST(PartsCommand, FindsASwitchByItsRating) {
    const RunOutcome outcome = parts({"switch", "24", "V", "5", "A", "dc"});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.errors;
    expect_holds(line_of(outcome.output, "relay-module-5v-10a"), "contact 10.0 A at 30.0 V DC");
    expect_holds(line_of(outcome.output, "switch-toggle-6a"), "contact 6.00 A at 28.0 V DC");
    expect_holds(line_of(outcome.output, "relay-solid-state-dc-60v-10a"), "switches 60.0 V");
    for (const char* unfit : {"switch-rocker-250v-ac-10a", "relay-solid-state-ac-25a", "relay-automotive-12v-30a",
                              "switch-slide-0.3a", "fuse-blade-5a"})
        EXPECT_EQ(line_of(outcome.output, unfit), "") << unfit;
    EXPECT_LT(outcome.output.find("switch-toggle-6a"), outcome.output.find("contactor-dc-24v-40a"));
    expect_holds(outcome.output, "Read as: 24.0 V, 5.00 A.");
}

TEST(PartsCommand, ReadsQuantitiesHoweverTyped) {
    const std::string list = parts({"supply", "24", "V", "5", "A"}).output;
    EXPECT_EQ(parts({"supply", "24V", "5A"}).output, list);
    EXPECT_EQ(parts({"supply 24 V 5 A"}).output, list);
    EXPECT_EQ(parts({"24v", "SUPPLY", "5a"}).output, list);
    expect_holds(line_of(list, "supply-24v-5a"), "gives 5.00 A");
    EXPECT_EQ(line_of(list, "supply-12v-5a"), "");
}

TEST(PartsCommand, FindsByWordAndCategory) {
    const RunOutcome outcome = parts({"materials"});
    EXPECT_EQ(outcome.exit_status, 0);
    for (const char* material : {"aluminium", "pla", "cork", "beeswax"})
        EXPECT_NE(line_of(outcome.output, material), "") << material;
    expect_holds(line_of(parts({"resistor", "100k"}).output, "resistor-100k"), "has 99.0..101 kΩ");
    expect_holds(line_of(parts({"thermostat", "90C"}).output, "thermostat-small-90c"), "trips at 85.0..95.0 °C");
}

TEST(PartsCommand, ShowsEachNumberWithItsBasisAndTheSource) {
    const RunOutcome outcome = parts({"thermal-link-110c"});
    EXPECT_EQ(outcome.exit_status, 0);
    expect_holds(outcome.output, "IEC 60691");
    expect_holds(outcome.output, "Terminals\n  in       lead\n");
    expect_holds(outcome.output, "  trip                      100.0..110.0 °C           typical\n");
    expect_holds(outcome.output, "  resistive                 10.0 A at 250 V AC        typical\n");
    expect_holds(outcome.output, "trip = \"100..110 °C\"\n");
    const std::string wire = parts({"wire-1.0mm2-pvc-flex"}).output;
    expect_holds(wire, "  insulation_class          70.0 °C ");
    const std::string board = parts({"controller-3v3-wifi"}).output;
    expect_holds(board, "pin-IO25, pin-IO26, pin-IO27 (pin)\n");
    expect_holds(board, "  output_current            20.0 mA                   typical\n");
}

TEST(PartsCommand, SaysHowItReadWhatNothingFits) {
    const RunOutcome outcome = parts({"fuse", "900", "A"});
    EXPECT_EQ(outcome.exit_status, 2);
    EXPECT_EQ(outcome.output, "");
    expect_holds(outcome.errors, "no part fits 'fuse 900 A'");
    expect_holds(outcome.errors, "read as: 900 A");
    expect_holds(parts({"fuse-blade-4b"}).errors, "did you mean 'fuse-blade-");
}

class OwnParts : public ::testing::Test {
protected:
    OwnParts() {
        std::string pattern = (fs::temp_directory_path() / "trivet-").string() + std::string(6, 'X');
        folder_ = ::mkdtemp(pattern.data());
    }
    ~OwnParts() override {
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }
    RunOutcome with_part(std::string_view text, const std::vector<std::string>& words) const {
        std::ofstream(folder_ / "mine.toml") << text;
        std::vector<std::string> all{"--parts", folder_.string()};
        all.insert(all.end(), words.begin(), words.end());
        return parts(all);
    }
    fs::path folder_;
};

constexpr std::string_view my_fuse = R"([fuse-blade-4a]
title = "Fuse from my drawer"
basis = "measured"
source = "print on its body"
terminals = ["in", "out"]
[[fuse-blade-4a.element]]
kind = "fuse"
between = ["in", "out"]
family = "blade"
rated_current = "4 A"
rated_voltage = "58 V"
)";

TEST_F(OwnParts, WinAndAreMarked) {
    const RunOutcome outcome = with_part(my_fuse, {"fuse", "4A", "58V"});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.errors;
    expect_holds(line_of(outcome.output, "fuse-blade-4a"), "Fuse from my drawer (your own part)");
    const RunOutcome page = with_part(my_fuse, {"fuse-blade-4a"});
    expect_holds(page.output, "58.0 V                    measured");
    expect_holds(page.output, "mine.toml:1");
}

TEST_F(OwnParts, AreRefusedWhenTheyContradictThemselves) {
    const std::string text = std::string(my_fuse) + "breaking_capacity = \"3 A\"\nrated_curent = \"4 A\"\n";
    const RunOutcome outcome = with_part(text, {"fuse"});
    EXPECT_EQ(outcome.exit_status, 2);
    expect_holds(outcome.errors, "mine.toml:10:");
    expect_holds(outcome.errors, "above 'breaking_capacity'");
    expect_holds(outcome.errors, "did you mean 'rated_current'?");
}

} // namespace
} // namespace trivet::testing
