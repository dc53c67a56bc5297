#include "catalog/library.h"
#include "catalog/split.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

std::string part_text(std::string_view name, std::string_view title = "A thing") {
    return fmt::format("[{}]\ntitle = \"{}\"\nbasis = \"typical\"\nsource = \"common practice\"\nterminals = [\"A\"]\n",
                       name, title);
}

std::string names_of(const SplitText& split) {
    std::string names;
    for (const Chunk& chunk : split.chunks) names += fmt::format("{}@{} ", chunk.name, chunk.first_line);
    return names;
}

struct SplitRow {
    std::string_view text;
    std::string_view names;
    std::size_t errors;
};

TEST(SplitParts, CutsAtHeadersThatOpenAnotherPart) {
    const std::array rows{
        SplitRow{"", "", 0},
        SplitRow{"# only a remark\n\n", "", 0},
        SplitRow{"[a]\nx = 1\n[[a.element]]\n[a.terminal.\"+\"]\n[b]\n", "a@1 b@5 ", 0},
        SplitRow{"\xEF\xBB\xBF[a]\r\nx = 1\r\n[b]\r\n", "a@1 b@3 ", 0},
        SplitRow{"[\"wire-1.0mm2\"]\n[[\"wire-1.0mm2\".element]]\n['b']\n", "wire-1.0mm2@1 b@3 ", 0},
        SplitRow{"[a]\ntext = \"\"\"\n[b]\n\"\"\"\n[c]\n", "a@1 c@5 ", 0},
        SplitRow{"[a]\ntext = '''\n[b] \"\"\"\n'''\n[c]\n", "a@1 c@5 ", 0},
        SplitRow{"[a]\ntext = \"\"\"x \\\"\"\"\n[b]\n\"\"\"\"\n[c]\n", "a@1 c@5 ", 0},
        SplitRow{"[a]\ntext = \"it's [ not open\"\n[b]\n", "a@1 b@3 ", 0},
        SplitRow{"[a]\nlist = [ # [\n[\"x\"],\n]\n[b]\n", "a@1 b@5 ", 0},
        SplitRow{"[a]\nlist = [1,\n[b]\n", "a@1 b@3 ", 0},
        SplitRow{"[ a ]\n[[ a.element ]]\n[b] # remark\n", "a@1 b@3 ", 0},
        SplitRow{"x = 1\ny = 2\n[a]\n", "a@3 ", 1},
        SplitRow{"[wire-1.0mm2]\nx = 1\n[a]\n", "a@3 ", 1},
        SplitRow{"[a]\n[]\nx = 1\n[b]\n[a b c]\n", "a@1 b@4 ", 2},
        SplitRow{"[a]\n[[\n[\"\n[c\n[b]\n", "a@1 b@5 ", 3},
    };
    for (const SplitRow& row : rows) {
        const SplitText split = split_parts(row.text, {});
        EXPECT_EQ(split.errors.size(), row.errors) << row.text << to_text(split.errors);
        EXPECT_EQ(names_of(split), row.names) << row.text;
    }
}

TEST(Catalog, KeepsLinesOfTheWholeFile) {
    const Library library(part_text("a") + part_text("b") + "colour = 1\n");
    const Loaded<Part>* part = library.catalog.find("b");
    ASSERT_NE(part, nullptr);
    ASSERT_EQ(part->errors.size(), 1U);
    EXPECT_EQ(part->errors[0].place.line, 11U);
    EXPECT_EQ(library.sources.name(part->errors[0].place.file), "parts.toml");
    EXPECT_FALSE(part->value);
}

TEST(Catalog, NamesAreSortedAndUnknownOnesAreNotFound) {
    const Library library(part_text("b") + part_text("a") + part_text("c"));
    EXPECT_EQ(library.catalog.names(), (std::vector<std::string_view>{"a", "b", "c"}));
    EXPECT_EQ(library.catalog.find("d"), nullptr);
    EXPECT_EQ(library.catalog.share("d"), nullptr);
    EXPECT_TRUE(library.catalog.knows("a"));
}

TEST(Catalog, AnUnknownPartIsReadOnlyWhenAskedFor) {
    const Library library(part_text("sound") + "[broken]\ntitle = \n");
    EXPECT_TRUE(library.errors.empty());
    EXPECT_NE(library.catalog.share("sound"), nullptr);
    EXPECT_EQ(library.catalog.share("broken"), nullptr);
    EXPECT_FALSE(library.catalog.find("broken")->errors.empty());
}

TEST(Catalog, TwoPartsOfOneNameAreAnError) {
    const Library library(part_text("a") + part_text("b") + part_text("a"));
    ASSERT_EQ(library.errors.size(), 1U);
    EXPECT_EQ(library.errors[0].kind, ErrorKind::duplicate_name);
    EXPECT_EQ(library.errors[0].place.line, 11U);
    EXPECT_NE(library.errors[0].message.find("line 1"), std::string::npos);
}

TEST(Catalog, TwoFilesOfOneFolderMayNotDefineTheSamePart) {
    Library library(part_text("a"));
    const Errors errors = library.catalog.add_file(library.sources, "more", "more.toml", "[a]\n", false);
    ASSERT_EQ(errors.size(), 1U);
    EXPECT_NE(errors[0].message.find("parts.toml"), std::string::npos);
}

TEST(Catalog, TheUsersOwnPartsWinAndAreReported) {
    Library library(part_text("a", "of the library") + part_text("b"));
    const std::string own = part_text("a", "my own") + part_text("z");
    EXPECT_TRUE(library.catalog.add_file(library.sources, "own", "own.toml", own, true).empty());
    EXPECT_EQ(library.catalog.find("a")->value->title, "my own");
    EXPECT_EQ(library.catalog.replaced(), (std::vector<std::string>{"a"}));
    EXPECT_TRUE(library.catalog.is_users_own("z"));
    EXPECT_FALSE(library.catalog.is_users_own("b"));
    EXPECT_EQ(library.catalog.find("z")->value->category, "own");
}

TEST(Catalog, TheOrderOfAddingDoesNotMatter) {
    Sources sources;
    Catalog catalog;
    const std::string own = part_text("a", "my own");
    const std::string library = part_text("a", "of the library");
    EXPECT_TRUE(catalog.add_file(sources, "own", "own.toml", own, true).empty());
    catalog.add_split({"a", "test", sources.add_view("parts.toml", library)});
    catalog.add_split({"0", "test", sources.add_view("parts.toml", part_text("0"))});
    EXPECT_EQ(catalog.find("a")->value->title, "my own");
    EXPECT_EQ(catalog.replaced(), (std::vector<std::string>{"a"}));
    EXPECT_EQ(catalog.names().front(), "0");
}

} // namespace
} // namespace trivet
