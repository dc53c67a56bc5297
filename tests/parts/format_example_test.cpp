#include "design/read_design.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

namespace trivet::testing {
namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

// The first ```toml block of a section.
std::string example_of(const std::string& page, std::string_view section) {
    constexpr std::string_view fence = "```toml\n";
    const std::size_t begin = page.find(fence, page.find(section)) + fence.size();
    return page.substr(begin, page.find("```", begin) - begin);
}

// What docs/format.md shows of bodies and heat paths is a design once a head and a wire stand before it.
TEST(FormatPage, ItsBodiesAndHeatPathsCanBeRead) {
    const fs::path root(TRIVET_SOURCE_DIR);
    Sources sources;
    Catalog catalog;
    for (const auto& entry : fs::directory_iterator(root / "parts")) {
        const SourceFile file = sources.add(entry.path().filename().string(), text_of(entry.path()));
        catalog.add_file(sources, entry.path().stem().string(), file.name, file.text, false);
    }
    const std::string text =
        "trivet = 1\nwires = [\"plate.a -> limiter.in\"]\n[build]\ntitle = \"Wax\"\nambient = \"10..35 °C\"\n" +
        example_of(text_of(root / "docs" / "format.md"), "## Bodies and heat paths");
    const Loaded<Design> design = read_design(sources.add("format.toml", text), catalog);
    for (const InputError& error : design.errors) ADD_FAILURE() << error.place.line << ": " << error.message;
    ASSERT_TRUE(design);
    EXPECT_EQ(design.value->bodies.size(), 2U);
    EXPECT_EQ(design.value->heat_paths.size(), 4U);
    EXPECT_TRUE(design.value->bodies[1].liquid);
    EXPECT_EQ(design.value->parts[1].on_body->value, 0U);
    EXPECT_EQ(design.value->parts[2].on_body->value, 1U);
    EXPECT_EQ(design.value->parts[3].beside_body->value, 0U);
}

} // namespace
} // namespace trivet::testing
