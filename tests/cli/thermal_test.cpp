#include "support/run_program.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdlib.h>
#include <string>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

// A mat under a tray, held by firmware at 40 °C, with a link on the mat. Values are plausible, nothing rests on them.
const std::string design = R"(trivet = 1
wires = [
    "supply.+ -> link.in : 1.0mm2 silicone 20 cm RD",
    "link.out -> mat.a : 1.0mm2 silicone 20 cm RD",
    "mat.b -> switch.OUT- : 1.0mm2 silicone 20 cm BK",
    "switch.VIN- -> supply.- : 1.0mm2 silicone 20 cm BK",
    "board.IO16 -> switch.IN : 0.25mm2 pvc 20 cm YE",
    "board.GND -> supply.- : 0.25mm2 pvc 20 cm BK",
]
[build]
title = "Tray on a mat"
ambient = "18..22 °C"
[part.supply]
is = "supply-24v-6.5a"
[part.link]
is = "thermal-link-dc-84c"
mounted_on = "tray"
[part.mat]
is = "heater-mat-silicone-24v-50w"
resistance = "11.5 ohm"
basis = "measured"
[part.switch]
is = "mosfet-module-low-side-36v-15a-optocoupler"
[part.board]
is = "controller-3v3-wifi"
pins = { IO16 = "digital-out" }
[part.probe]
is = "thermistor-ntc-10k-b3950"
mounted_on = "tray"
[[control]]
name = "hold the tray"
senses = "probe"
drives = "switch"
setpoint = "40 °C"
band = "1 K"
[[body]]
name = "tray"
heated_by = "mat"
may_be = ["covered"]
)";
const std::string capacity = "capacity = \"1000 J/K\"\n";
const std::string path = "[[heat_path]]\nfrom = \"tray\"\nto = \"ambient\"\n";
const std::string conductance = "conductance = \"0.5 W/K\"\n";

class ThermalCommand : public ::testing::Test {
protected:
    ThermalCommand() {
        std::string pattern = (fs::temp_directory_path() / "trivet-").string() + std::string(6, 'X');
        folder_ = ::mkdtemp(pattern.data());
        write("build.toml", design + capacity + path + conductance);
    }
    ~ThermalCommand() override {
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name, std::ios::binary) << text;
    }
    RunOutcome thermal(std::vector<std::string> words) const {
        words.insert(words.begin(), "thermal");
        return run_program(TRIVET_PROGRAM, words, folder_);
    }
    RunOutcome trivet(const std::vector<std::string>& words) const {
        return run_program(TRIVET_PROGRAM, words, folder_);
    }

private:
    fs::path folder_;
};

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

double number_after(const std::string& text, std::string_view words) {
    const auto at = text.find(words);
    if (at == std::string::npos) return std::nan("");
    return std::strtod(text.c_str() + at + words.size(), nullptr);
}

TEST_F(ThermalCommand, DrawsNormalRunningAtTheHotExtreme) {
    const RunOutcome outcome = thermal({"build.toml"});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.errors;
    EXPECT_TRUE(has(outcome.output, "Tray on a mat: normal, hot extreme")) << outcome.output;
    EXPECT_TRUE(has(outcome.output, "Settled after")) << outcome.output;
    EXPECT_TRUE(has(outcome.output, "hold the tray: 40.0 °C at tray reached after")) << outcome.output;
    EXPECT_FALSE(has(outcome.output, "\x1b")) << "no colour outside a terminal";
}

TEST_F(ThermalCommand, TellsWhatEndsAStuckSwitchAndWhatItIsWithoutCutoffs) {
    const RunOutcome guarded = thermal({"build.toml", "--stuck", "switch"});
    EXPECT_EQ(guarded.exit_status, 0) << guarded.errors;
    EXPECT_TRUE(has(guarded.output, "switch sticks: it never opens again. link opens after")) << guarded.output;
    EXPECT_TRUE(has(guarded.output, "ends the heating")) << guarded.output;
    const RunOutcome bare = thermal({"build.toml", "--stuck", "switch", "--no-cutoff"});
    EXPECT_TRUE(has(bare.output, "Without its cutoffs")) << bare.output;
    EXPECT_TRUE(has(bare.output, "nothing stops it: tray ends at")) << bare.output;
}

TEST_F(ThermalCommand, FollowsOtherSituationsAndTimes) {
    const RunOutcome outcome =
        thermal({"build.toml", "--situation", "tray covered", "--extreme", "cold", "--for", "2h"});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.errors;
    EXPECT_TRUE(has(outcome.output, "tray covered, cold extreme")) << outcome.output;
    EXPECT_TRUE(has(outcome.output, "120 min\n")) << outcome.output;
}

TEST_F(ThermalCommand, NamesWhatThereIsWhenAWordIsUnknown) {
    RunOutcome outcome = thermal({"build.toml", "--situation", "upside down"});
    EXPECT_EQ(outcome.exit_status, 2);
    EXPECT_TRUE(has(outcome.errors, "it has 'normal', 'tray covered', 'probe off its place'")) << outcome.errors;
    outcome = thermal({"build.toml", "--stuck", "swich"});
    EXPECT_EQ(outcome.exit_status, 2);
    EXPECT_TRUE(has(outcome.errors, "'swich' is no part of this design; what can stick is 'switch'")) << outcome.errors;
    outcome = thermal({"build.toml", "--stuck", "link"});
    EXPECT_EQ(outcome.exit_status, 2);
    for (const auto* time : {"2", "0 s", "2 km", "1000 h"}) {
        outcome = thermal({"build.toml", "--for", time});
        EXPECT_EQ(outcome.exit_status, 2) << time;
        EXPECT_TRUE(has(outcome.errors, "--for")) << outcome.errors;
    }
    EXPECT_EQ(thermal({"build.toml", "--extreme", "warm"}).exit_status, 2);
    EXPECT_EQ(thermal({"missing.toml"}).exit_status, 2);
}

TEST_F(ThermalCommand, SaysWhatToStateWhenItCannotAnswer) {
    std::string bare = design.substr(0, design.find("[[body]]"));
    for (auto at = bare.find("mounted_on = \"tray\"\n"); at != std::string::npos; at = bare.find("mounted_on", at))
        bare.erase(at, bare.find('\n', at) + 1 - at);
    write("no-bodies.toml", bare);
    RunOutcome outcome = thermal({"no-bodies.toml"});
    EXPECT_EQ(outcome.exit_status, 1);
    EXPECT_TRUE(has(outcome.errors, "describes no bodies")) << outcome.errors;
    write("open.toml", design + path);
    outcome = thermal({"open.toml"});
    EXPECT_EQ(outcome.exit_status, 1);
    EXPECT_TRUE(has(outcome.errors, "conductance of the heat path tray to ambient")) << outcome.errors;
    EXPECT_TRUE(has(outcome.errors, "mass of tray")) << outcome.errors;
    std::string unheld = design + capacity + path + conductance;
    unheld.erase(unheld.find("setpoint"), std::string("setpoint = \"40 °C\"\n").size());
    write("unheld.toml", unheld);
    outcome = thermal({"unheld.toml"});
    EXPECT_EQ(outcome.exit_status, 1);
    EXPECT_TRUE(has(outcome.errors, "setpoint of the control hold the tray")) << outcome.errors;
}

TEST_F(ThermalCommand, WritesJson) {
    const RunOutcome outcome = thermal({"build.toml", "--format", "json"});
    EXPECT_EQ(outcome.exit_status, 0);
    EXPECT_TRUE(outcome.output.starts_with("{\"trivet\":1,\"title\":\"Tray on a mat\""))
        << outcome.output.substr(0, 80);
}

// What it writes, trivet fit reads and finds the numbers again that the curve was computed with.
TEST_F(ThermalCommand, ItsCsvIsALogForTheFit) {
    const RunOutcome csv = thermal({"build.toml", "--stuck", "switch", "--format", "csv", "--for", "30 min"});
    ASSERT_EQ(csv.exit_status, 0) << csv.errors;
    EXPECT_TRUE(has(csv.output, "\ntime_s,ambient_C,tray_C,mat_on\n")) << csv.output.substr(0, 300);
    write("log.csv", csv.output);
    write("open.toml", design + path);
    const RunOutcome fit = trivet({"fit", "open.toml", "log.csv"});
    EXPECT_EQ(fit.exit_status, 0) << fit.output << fit.errors;
    const double found = number_after(fit.output, "heat capacity of tray") /
                         number_after(fit.output, "conductance from tray to ambient");
    EXPECT_NEAR(found, 1000.0 / 0.5, 40.0) << "the time constant; power is known to a tolerance only\n" << fit.output;
}

} // namespace
} // namespace trivet::testing
