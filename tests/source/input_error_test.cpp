#include "source/input_error.h"

#include "source/file.h"
#include "source/utf8.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet {
namespace {

InputError at(std::uint32_t file, std::uint32_t line, std::uint32_t column, std::string message) {
    return {ErrorKind::syntax, {{file}, line, column}, std::move(message), {}};
}

TEST(Tidy, SortsByPlaceAndDropsRepeats) {
    Errors errors{at(1, 1, 1, "d"), at(0, 2, 1, "c"), at(0, 1, 9, "b"),
                  at(0, 1, 2, "a"), at(0, 1, 9, "b"), at(0, 1, 9, "other")};
    tidy(errors);
    std::string order;
    for (const InputError& error : errors) order += error.message + " ";
    EXPECT_EQ(order, "a b other c d ");
}

TEST(Tidy, CapsEachFileAndCountsTheRest) {
    Errors errors;
    for (std::uint32_t i = 1; i <= 10; ++i) errors.push_back(at(0, i, 1, "x"));
    errors.push_back(at(1, 1, 1, "y"));
    tidy(errors, 4);
    ASSERT_EQ(errors.size(), 5U);
    EXPECT_EQ(errors[3].message, "7 more errors from here on are not shown");
    EXPECT_EQ(errors[3].place.line, 4U);
    EXPECT_EQ(errors[4].message, "y");
}

TEST(Sources, KeepTextsAtTheirAddress) {
    Sources sources;
    const SourceFile first = sources.add("a.toml", "short");
    for (int i = 0; i < 100; ++i) sources.add("b.toml", std::string(100, 'x'));
    const SourceFile view = sources.add_view("c.toml", "outside", 7);
    EXPECT_EQ(first.text, "short");
    EXPECT_EQ(first.text.data(), sources.text(first.id).data());
    EXPECT_EQ(sources.name(view.id), "c.toml");
    EXPECT_EQ(sources.first_line(view.id), 7U);
    EXPECT_EQ(sources.first_line(first.id), 1U);
    EXPECT_EQ(view.id.value, 101U);
}

TEST(Utf8, PlacesAndOffsetsAreInverse) {
    Sources sources;
    const SourceFile file = sources.add("a.toml", "\xEF\xBB\xBF"
                                                  "ä = 1\r\n\n  °C€😀x");
    for (std::size_t offset = 3; offset < file.text.size(); offset += code_point_at(file.text, offset).bytes) {
        const Place place = place_at(file, offset);
        EXPECT_EQ(offset_of(file.text, place.line, place.column), offset);
    }
    EXPECT_EQ(place_at(file, file.text.size()), (Place{file.id, 3, 8}));
    EXPECT_EQ(code_point_at("😀", 0).value, 0x1F600U);
}

TEST(Utf8, ShownIsShortAndHarmless) {
    EXPECT_EQ(shown("abc"), "abc");
    EXPECT_EQ(shown("äöü°", 3), "äöü...");
    EXPECT_EQ(shown("a\nb\x1B[2J\x7F"), "a b [2J ");
}

} // namespace
} // namespace trivet
