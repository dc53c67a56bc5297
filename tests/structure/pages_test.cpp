#include "structure/house.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

namespace trivet::house {
namespace {

bool has_line_with(const std::string& path, std::string_view text) {
    return whole_text(path).find(text) != std::string::npos;
}

TEST(Pages, ListEveryModule) {
    for (const Module& module : declared_modules()) {
        EXPECT_TRUE(has_line_with("DEVELOPERS.md", "\n| `" + module.name + "` |")) << module.name;
    }
}

TEST(Pages, FirstCommandsOfTheReadmeAreSetupAndTest) {
    const std::string readme = whole_text("README.md");
    const auto first = readme.find("```sh\n");
    const auto second = readme.find("```sh\n", first + 1);
    ASSERT_NE(second, std::string::npos);
    EXPECT_EQ(readme.substr(first + 6, 8), "./setup\n");
    EXPECT_EQ(readme.substr(second + 6, 11), "./dev test\n");
}

TEST(Pages, ShowInTheReadmeWhatTheProgramSays) {
    const std::string readme = whole_text("README.md");
    const std::string said = whole_text("tests/golden/check-salvaged-plate/expected.txt");
    const auto start = readme.find("```text\n") + 8;
    std::istringstream shown(readme.substr(start, readme.find("```", start) - start));
    for (std::string line; std::getline(shown, line);) EXPECT_NE(said.find(line + "\n"), std::string::npos) << line;
}

TEST(Pages, StateTheCaution) {
    EXPECT_TRUE(has_line_with("README.md", "replaces neither the datasheet, nor local codes, nor"));
}

// Every relative link of a page leads to a file.
TEST(Pages, LinkToWhatExists) {
    for (const TextFile& page : all_files()) {
        if (!page.path.ends_with(".md")) continue;
        const auto folder = (std::filesystem::path(TRIVET_SOURCE_DIR) / page.path).parent_path();
        for (std::size_t i = 0; i < page.lines.size(); ++i) {
            const std::string& line = page.lines[i];
            for (auto at = line.find("]("); at != std::string::npos; at = line.find("](", at + 1)) {
                std::string target = line.substr(at + 2, line.find(')', at) - at - 2);
                target = target.substr(0, target.find('#'));
                if (target.empty()) continue;
                EXPECT_TRUE(std::filesystem::exists(folder / target))
                    << place(page, static_cast<int>(i) + 1) << ": " << target;
            }
        }
    }
}

TEST(Pages, ExamplesSayInTheirFirstLineWhatTheyShow) {
    for (const TextFile& file : all_files()) {
        if (!file.path.starts_with("examples/") || !file.path.ends_with(".toml")) continue;
        ASSERT_FALSE(file.lines.empty()) << file.path;
        EXPECT_TRUE(file.lines.front().starts_with("# ")) << file.path;
    }
}

} // namespace
} // namespace trivet::house
