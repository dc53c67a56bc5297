#include "support/run_program.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <sys/stat.h>
#include <unistd.h>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

// What people really hand to a checker, as files on a disk: each answered with a sentence and exit status 2.
class BadFiles : public ::testing::Test {
protected:
    BadFiles() {
        std::string pattern = (fs::temp_directory_path() / "trivet-").string() + std::string(6, 'X');
        folder_ = ::mkdtemp(pattern.data());
    }
    ~BadFiles() override {
        std::error_code ignored;
        fs::permissions(folder_, fs::perms::owner_all, ignored);
        fs::remove_all(folder_, ignored);
    }

    std::string file(const std::string& name, std::string_view text) const {
        const fs::path path = folder_ / name;
        std::ofstream(path, std::ios::binary) << text;
        return path.string();
    }

    static RunOutcome trivet(const std::vector<std::string>& words) { return run_program(TRIVET_PROGRAM, words, "."); }

    static void expect_refusal(const RunOutcome& outcome, std::string_view sentence) {
        EXPECT_EQ(outcome.exit_status, 2) << outcome.output << outcome.errors;
        EXPECT_NE(outcome.errors.find(sentence), std::string::npos) << outcome.errors;
        EXPECT_TRUE(outcome.output.empty()) << outcome.output;
    }

    fs::path folder_;
};

constexpr std::string_view sound = R"(trivet = 1
wires = ["supply.+ -> fuse.in : 1.0mm2 pvc 10 cm RD", "fuse.out -> link.in : 1.0mm2 pvc 10 cm RD",
         "link.out -> plate.a : 1.0mm2 pvc 10 cm RD", "plate.b -> supply.- : 1.0mm2 pvc 10 cm BK"]
[build]
title = "Smallest build"
ambient = "10..30 °C"
[part.supply]
is = "supply-24v-3a"
[part.fuse]
is = "fuse-blade-2a"
[part.link]
is = "thermal-link-dc-110c"
mounted_on = "slab"
[[body]]
name = "slab"
heated_by = "plate"
capacity = "200 J/K"
limit = "90 °C"
touchable = false
[[heat_path]]
from = "slab"
to = "ambient"
conductance = "1 W/K"
[part.plate]
is = "heater-plate-24v-20w"
)";

TEST_F(BadFiles, EmptyFileIsNotADesign) { expect_refusal(trivet({"check", file("a.toml", "")}), "error"); }

TEST_F(BadFiles, BinaryFileIsNotText) {
    std::string bytes("\x7f"
                      "ELF\x02\x01\x01\0\0\0\0",
                      11);
    expect_refusal(trivet({"check", file("a.toml", bytes)}), "text");
}

TEST_F(BadFiles, FiftyMegabytesAreRefusedUnread) {
    const std::string path = file("a.toml", "");
    fs::resize_file(path, 50U << 20U);
    expect_refusal(trivet({"check", path}), "larger than 32 MiB");
}

TEST_F(BadFiles, MissingFileAndFolder) {
    expect_refusal(trivet({"check", (folder_ / "none.toml").string()}), "there is no file of this name");
    expect_refusal(trivet({"check", folder_.string()}), "this is a folder");
    expect_refusal(trivet({"check", "--rules", (folder_ / "none").string(), file("a.toml", sound)}),
                   "there is no folder of this name");
}

TEST_F(BadFiles, UnreadableFolderOfParts) {
    if (::geteuid() == 0) GTEST_SKIP() << "the administrator may read everything";
    const fs::path parts = folder_ / "locked";
    fs::create_directory(parts);
    fs::permissions(parts, fs::perms::none);
    expect_refusal(trivet({"check", "--parts", parts.string(), file("a.toml", sound)}), "cannot be read");
    fs::permissions(parts, fs::perms::owner_all);
}

TEST_F(BadFiles, DeepNestingIsRefused) {
    expect_refusal(trivet({"check", file("a.toml", "x = " + std::string(100'000, '[') + "\n")}), "error");
    std::string dotted = "a";
    for (int i = 0; i < 30'000; ++i) dotted += ".a";
    expect_refusal(trivet({"check", file("b.toml", dotted + " = 1\n")}), "error");
}

TEST_F(BadFiles, ByteOrderMarkAndWindowsLineEndsAreAccepted) {
    std::string text = "\xEF\xBB\xBF";
    for (const char c : sound) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    const RunOutcome outcome = trivet({"check", file("a.toml", text)});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.output << outcome.errors;
}

TEST_F(BadFiles, AllMistakesOfAFileInOneRun) {
    std::string text(sound);
    text.replace(text.find("2a\""), 3, "2amp\"");
    text += "resistance = \"9..5 ohm\"\nbasis = \"measured\"\n[part.fan]\nis = \"fan-24v-80mn\"\n[part.a]\nis = "
            "\"resistor-10k\"\nresistance = \"1e300 ohm\"\nbasis = \"measured\"\n";
    const RunOutcome outcome = trivet({"check", file("a.toml", text)});
    expect_refusal(outcome, "fuse-blade-2a");
    for (const auto piece : {"fan-24v-80mm", "9..5 ohm", "1e300"})
        EXPECT_NE(outcome.errors.find(piece), std::string::npos) << piece << " in\n" << outcome.errors;
}

TEST_F(BadFiles, FullDiskIsAnErrorNotAShortReport) {
    if (!fs::exists("/dev/full")) GTEST_SKIP() << "no /dev/full here";
    const std::string command =
        std::string(TRIVET_PROGRAM) + " check " + file("a.toml", sound) + " > /dev/full 2> /dev/null";
    const int status = std::system(command.c_str());
    EXPECT_EQ(WEXITSTATUS(status), 2);
}

TEST_F(BadFiles, ClosedPipeEndsTheProgramInOrder) {
    const std::string command =
        "bash -c '" + std::string(TRIVET_PROGRAM) + " explain facts 2> /dev/null | head -n 0; exit ${PIPESTATUS[0]}'";
    const int status = std::system(command.c_str());
    EXPECT_TRUE(WIFEXITED(status));
    EXPECT_LE(WEXITSTATUS(status), 2);
}

TEST_F(BadFiles, OwnPartsBesideTheDesignWinAndAreMentioned) {
    fs::create_directory(folder_ / "parts");
    file("parts/mine.toml", "[fuse-blade-2a]\ntitle = \"My fuse\"\nbasis = \"measured\"\nsource = \"my "
                            "drawer\"\nterminals = [\"in\", \"out\"]\n"
                            "[[fuse-blade-2a.element]]\nkind = \"fuse\"\nbetween = [\"in\", \"out\"]\nfamily = "
                            "\"blade\"\nrated_current = \"2 A\"\n"
                            "rated_voltage = \"32 V\"\nbreaking_capacity = \"1 kA\"\n");
    const RunOutcome outcome = trivet({"check", file("a.toml", sound)});
    EXPECT_EQ(outcome.exit_status, 0) << outcome.output << outcome.errors;
    EXPECT_NE(outcome.output.find("your own part fuse-blade-2a"), std::string::npos) << outcome.output;
}

} // namespace
} // namespace trivet::testing
