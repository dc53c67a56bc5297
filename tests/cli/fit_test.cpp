#include "support/run_program.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdlib.h>
#include <string>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

// A heating mat on a supply under a tray; what the tray takes up and gives to the room is left to a log. Values are
// plausible, nothing rests on them.
const std::string design = R"(trivet = 1
[build]
title = "Tray on a mat"
ambient = "18..22 °C"
[part.supply]
is = "supply-24v-6.5a"
[part.mat]
is = "heater-mat-silicone-24v-50w"
resistance = "11.5 ohm"
basis = "measured"
[[wire]]
from = "supply.+"
to = "mat.a"
use = "wire-1.0mm2-pvc-flex"
length = "20 cm"
[[wire]]
from = "mat.b"
to = "supply.-"
use = "wire-1.0mm2-pvc-flex"
length = "20 cm"
[[body]]
name = "tray"
heated_by = "mat"
[[heat_path]]
from = "tray"
to = "ambient"
)";

// One body in closed form: about what 24 V give on 11.5 ohm for two hours, then cooling;
// 2 W/K and 5000 J/K. A small pattern stands in for a thermometer's noise.
std::string log_text(bool heats) {
    constexpr double power = 48.0;
    constexpr double conductance = 2.0;
    constexpr double capacity = 5000.0;
    std::ostringstream text;
    text << "time_s,tray_C,ambient_C,mat_on\n";
    double start = 20.0;
    for (int row = 0; row < 60; ++row) {
        const bool on = heats && row < 30;
        const double alternating = (row * 7 % 5 - 2) * 0.1;
        text << row * 240 << ',' << start + alternating << ",20," << (on ? 1 : 0) << '\n';
        const double end = 20.0 + (on ? power / conductance : 0.0);
        start = end + (start - end) * std::exp(-conductance * 240.0 / capacity);
    }
    return text.str();
}

class FitCommand : public ::testing::Test {
protected:
    FitCommand() {
        std::string pattern = (fs::temp_directory_path() / "trivet-").string() + std::string(6, 'X');
        folder_ = ::mkdtemp(pattern.data());
        write("build.toml", design);
        write("log.csv", log_text(true));
    }
    ~FitCommand() override {
        std::error_code ignored;
        fs::remove_all(folder_, ignored);
    }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(folder_ / name, std::ios::binary) << text;
    }
    std::string read(const std::string& name) const {
        std::ostringstream text;
        text << std::ifstream(folder_ / name, std::ios::binary).rdbuf();
        return text.str();
    }
    RunOutcome trivet(const std::vector<std::string>& words) const {
        return run_program(TRIVET_PROGRAM, words, folder_);
    }

    fs::path folder_;
};

TEST_F(FitCommand, WritesNumbersThatCheckTakes) {
    const RunOutcome outcome = trivet({"fit", "build.toml", "log.csv", "-o", "fitted.toml"});
    ASSERT_EQ(outcome.exit_status, 0) << outcome.errors;
    EXPECT_NE(outcome.output.find("heat capacity of tray"), std::string::npos) << outcome.output;
    EXPECT_NE(outcome.output.find("conductance from tray to ambient"), std::string::npos);
    const std::string fitted = read("fitted.toml");
    EXPECT_NE(fitted.find("capacity = \""), std::string::npos) << fitted;
    EXPECT_EQ(read("build.toml"), design);
    EXPECT_EQ(trivet({"check", "build.toml", "--with", "fitted.toml"}).exit_status,
              trivet({"check", "build.toml"}).exit_status);
    ASSERT_EQ(trivet({"fit", "build.toml", "log.csv", "-o", "fitted.toml"}).exit_status, 0);
    EXPECT_EQ(read("fitted.toml"), fitted); // nothing in it depends on when it was made
    EXPECT_EQ(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()), 3);
}

TEST_F(FitCommand, RefusesToOverwriteAnythingElse) {
    write("notes.txt", "mine\n");
    for (const char* path : {"build.toml", "log.csv", "notes.txt", "./build.toml"}) {
        const std::string before = read(path);
        const RunOutcome outcome = trivet({"fit", "build.toml", "log.csv", "-o", path});
        EXPECT_EQ(outcome.exit_status, 2) << path;
        EXPECT_EQ(read(path), before);
    }
    EXPECT_EQ(trivet({"fit", "build.toml", "log.csv", "-o", "no-folder/fitted.toml"}).exit_status, 2);
}

TEST_F(FitCommand, SaysWhatALogCannotDetermine) {
    write("log.csv", log_text(false));
    const RunOutcome outcome = trivet({"fit", "build.toml", "log.csv", "-o", "fitted.toml"});
    EXPECT_EQ(outcome.exit_status, 1);
    EXPECT_NE(outcome.output.find("cannot determine"), std::string::npos) << outcome.output;
    EXPECT_FALSE(fs::exists(folder_ / "fitted.toml"));
}

TEST_F(FitCommand, RefusesWhatItCannotRead) {
    write("bad.csv", "time_s,trey_C,mat_on\n0,20,1\n");
    const RunOutcome log = trivet({"fit", "build.toml", "bad.csv"});
    EXPECT_EQ(log.exit_status, 2);
    EXPECT_NE(log.errors.find("bad.csv:1:8: error: no body, heater or switch is called 'trey_C'"), std::string::npos)
        << log.errors;
    EXPECT_EQ(trivet({"fit", "build.toml", "missing.csv"}).exit_status, 2);
    const RunOutcome overlay = trivet({"check", "build.toml", "--with", "build.toml"});
    EXPECT_EQ(overlay.exit_status, 2);
    EXPECT_NE(overlay.errors.find("not a file of fitted numbers"), std::string::npos) << overlay.errors;
}

TEST_F(FitCommand, NeedsSomethingLeftOpen) {
    std::string closed = design + "conductance = \"2 W/K\"\n";
    closed.replace(closed.find("heated_by = \"mat\"\n"), 0, "capacity = \"5000 J/K\"\n");
    write("build.toml", closed);
    const RunOutcome outcome = trivet({"fit", "build.toml", "log.csv"});
    EXPECT_EQ(outcome.exit_status, 2);
    EXPECT_NE(outcome.errors.find("leaves nothing open"), std::string::npos) << outcome.errors;
}

} // namespace
} // namespace trivet::testing
