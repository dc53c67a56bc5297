#include "library/embedded.h"

#include "catalog/split.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace trivet {
namespace {

const std::filesystem::path root = TRIVET_SOURCE_DIR;

std::string on_disk(std::string_view path) {
    std::ifstream in(root / path, std::ios::binary);
    EXPECT_TRUE(in) << path;
    return {std::istreambuf_iterator<char>(in), {}};
}

std::set<std::string> toml_files(std::string_view folder) {
    std::set<std::string> paths;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root / folder)) {
        if (entry.path().extension() != ".toml") continue;
        paths.insert(std::filesystem::relative(entry.path(), root).generic_string());
    }
    return paths;
}

std::vector<EmbeddedFile> all_embedded() {
    std::vector<EmbeddedFile> files;
    for (const auto group : {embedded_parts(), embedded_rules(), embedded_tables()}) {
        files.insert(files.end(), group.begin(), group.end());
    }
    files.push_back(embedded_policy());
    return files;
}

TEST(Embedded, HoldsEveryFileByteForByte) {
    std::set<std::string> embedded;
    for (const EmbeddedFile& file : all_embedded()) {
        if (file.path.empty()) continue;
        EXPECT_TRUE(file.text == on_disk(file.path)) << file.path; // whole files would drown the message
        EXPECT_TRUE(embedded.insert(std::string(file.path)).second) << file.path;
    }
    std::set<std::string> files = toml_files("parts");
    files.merge(toml_files("rules"));
    EXPECT_EQ(embedded, files);
}

TEST(Embedded, SortsFilesIntoTheirGroups) {
    for (const EmbeddedFile& file : embedded_parts()) EXPECT_TRUE(file.path.starts_with("parts/")) << file.path;
    for (const EmbeddedFile& file : embedded_tables()) EXPECT_TRUE(file.path.starts_with("rules/tables/")) << file.path;
    for (const EmbeddedFile& file : embedded_rules()) {
        EXPECT_TRUE(file.path.starts_with("rules/")) << file.path;
        EXPECT_EQ(std::ranges::count(file.path, '/'), 2) << file.path << ": a rule is rules/<subject>/<name>.toml";
    }
}

TEST(Embedded, PartIndexIsSortedAndCoversEveryPartOfEveryFile) {
    const auto parts = embedded_part_index();
    EXPECT_TRUE(std::ranges::is_sorted(parts, {}, &EmbeddedPart::name));
    EXPECT_EQ(std::ranges::adjacent_find(parts, {}, &EmbeddedPart::name), parts.end());
    std::size_t in_files = 0;
    for (const EmbeddedFile& file : embedded_parts()) in_files += split_parts(file.text, {}).chunks.size();
    EXPECT_EQ(parts.size(), in_files);
}

TEST(Embedded, PartIndexPointsAtThePartsHeader) {
    for (const EmbeddedPart& part : embedded_part_index()) {
        const std::string bare = "[" + std::string(part.name) + "]";
        const std::string quoted = "[\"" + std::string(part.name) + "\"]";
        EXPECT_TRUE(part.text.starts_with(bare) || part.text.starts_with(quoted)) << part.name;
        EXPECT_EQ(part.path, "parts/" + std::string(part.category) + ".toml");
        const auto file = std::ranges::find(embedded_parts(), part.path, &EmbeddedFile::path);
        ASSERT_NE(file, embedded_parts().end()) << part.path;
        const auto before = file->text.substr(0, file->text.find(part.text));
        EXPECT_EQ(std::ranges::count(before, '\n') + 1, part.first_line) << part.name;
    }
}

} // namespace
} // namespace trivet
