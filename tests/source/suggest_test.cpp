#include "source/suggest.h"

#include <gtest/gtest.h>

#include <array>
#include <string>
#include <vector>

namespace trivet {
namespace {

TEST(Suggest, NearestByEdits) {
    struct Row {
        std::string name;
        std::vector<std::string_view> candidates;
        std::string nearest;
    };
    const std::vector<Row> rows{
        {"suply", {"fuse", "supply", "simply"}, "supply"},
        {"lenght", {"length", "height"}, "length"}, // a swap of neighbours counts once
        {"ab", {"abc", "ba"}, ""},                  // one edit is half of the name
        {"abc", {"abd"}, "abd"},
        {"vcc", {"VCC", "vccx"}, "VCC"}, // letter case costs nothing
        {"kitten", {"sitting"}, ""},     // distance 3 (Levenshtein's own example) is half of the name
        {"kittens", {"sitting"}, "sitting"},
        {"supplies-of-power", {"supply"}, ""},
        {"", {"a"}, ""},
        {"abc", {}, ""},
        {"abcd", {"abce", "abcf"}, "abce"}, // the first of equals
        {std::string(200, 'x'), {"x"}, ""},
    };
    for (const Row& row : rows) EXPECT_EQ(nearest(row.name, row.candidates), row.nearest) << row.name;
}

TEST(Suggest, Sentences) {
    constexpr std::array<std::string_view, 2> few{"supply", "fuse"};
    EXPECT_EQ(did_you_mean("suppyl", few), "did you mean 'supply'?");
    EXPECT_EQ(did_you_mean("xyz", few), "known here: supply, fuse");
    EXPECT_EQ(did_you_mean("xyz", {}), "");
    constexpr std::array<std::string_view, 9> many{"a1", "a2", "a3", "a4", "a5", "a6", "a7", "a8", "a9"};
    EXPECT_EQ(did_you_mean("unlike", many), "known here: a1, a2, a3, a4, a5, a6, a7, a8, ...");
}

} // namespace
} // namespace trivet
