#include "tables/handbook.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet {
namespace {

constexpr const char* head = "title = 't'\nsource = 's'\nconfirmed = 'from memory'\n";
constexpr const char* keys = "keys = [{ name = 'area', dimension = 'area', match = 'down' }]\n";
constexpr const char* value = "value = { name = 'current', dimension = 'current' }\n";
constexpr const char* rows = "rows = [['1 mm2', '10 A']]\n";

TEST(ReadTable, KeepsWhatTheFileSays) {
    const auto table = test::table_from(std::string(head) + keys + value + rows, "some/where/conductor-current.toml");
    ASSERT_TRUE(table) << test::describe(table.errors);
    EXPECT_EQ(table.value->name, "conductor-current");
    EXPECT_EQ(table.value->title, "t");
    EXPECT_EQ(table.value->source, "s");
    EXPECT_EQ(table.value->confirmed, "from memory");
    ASSERT_EQ(table.value->keys.size(), 1U);
    EXPECT_EQ(table.value->keys[0].name, "area");
    EXPECT_EQ(table.value->keys[0].dimension, dim::area);
    EXPECT_EQ(table.value->keys[0].match, Match::down);
    EXPECT_EQ(table.value->value.dimension, dim::current);
    ASSERT_EQ(table.value->rows.size(), 1U);
    EXPECT_EQ(table.value->rows[0].value, 10.0);
    EXPECT_TRUE(table.value->rows[0].source.empty());
}

struct Bad {
    const char* what;
    std::string text;
    ErrorKind kind;
    std::uint32_t line;
    const char* message;
};

TEST(ReadTable, RefusesEveryMistakeAtItsPlace) {
    const std::string h = head;
    const std::string k = keys;
    const std::string v = value;
    const std::string r = rows;
    const Bad mistakes[] = {
        {"no title", "source = 's'\nconfirmed = 'computed'\n" + k + v + r, ErrorKind::missing_key, 0, "title"},
        {"no keys", h + v + r, ErrorKind::missing_key, 0, "no 'keys'"},
        {"no value", h + k + r, ErrorKind::missing_key, 0, "no 'value'"},
        {"no rows", h + k + v, ErrorKind::missing_key, 0, "no 'rows'"},
        {"empty rows", h + k + v + "rows = []\n", ErrorKind::wrong_type, 6, "a list of 1 to"},
        {"empty keys", h + "keys = []\n" + v + r, ErrorKind::out_of_range, 4, "1 to 4 key columns; this one has 0"},
        {"rows not a list", h + k + v + "rows = 3\n", ErrorKind::wrong_type, 6, "'rows' is a list"},
        {"row not a list", h + k + v + "rows = ['10 A']\n", ErrorKind::wrong_type, 6, "2 values: area, current"},
        {"short row", h + k + v + "rows = [['1 mm2']]\n", ErrorKind::wrong_type, 6, "2 values: area, current"},
        {"long row", h + k + v + "rows = [['1 mm2', '1 A', 's', 't']]\n", ErrorKind::wrong_type, 6, "2 values"},
        {"source a number", h + k + v + "rows = [['1 mm2', '1 A', 5]]\n", ErrorKind::wrong_type, 6, "is a text"},
        {"wrong unit", h + k + v + "rows = [\n['1 mm2', '10 V']]\n", ErrorKind::bad_quantity, 7, "10 V is a voltage"},
        {"bare number", h + k + v + "rows = [['1 mm2', 10]]\n", ErrorKind::wrong_type, 6, "a current in quotes"},
        {"a range", h + k + v + "rows = [['1 mm2', '1..2 A']]\n", ErrorKind::bad_quantity, 6, "is a range"},
        {"unknown dimension", h + k + "value = { name = 'x', dimension = 'amps' }\n" + r, ErrorKind::unknown_name, 5,
         "'amps' is not a known dimension"},
        {"text as value", h + k + "value = { name = 'x', dimension = 'text' }\n" + r, ErrorKind::unknown_name, 5,
         "'text' is not a known dimension"},
        {"unknown match", h + "keys = [{ name = 'area', dimension = 'area', match = 'near' }]\n" + v + r,
         ErrorKind::unknown_name, 4, "near"},
        {"no match", h + "keys = [{ name = 'area', dimension = 'area' }]\n" + v + r, ErrorKind::missing_key, 4,
         "match"},
        {"match of a text",
         h + "keys = [{ name = 'a', dimension = 'text', match = 'up' }]\n" + v + "rows = [['x', '1 A']]\n",
         ErrorKind::unknown_key, 4, "always matched exactly"},
        {"unknown confirmation", "title = 't'\nsource = 's'\nconfirmed = 'sure'\n" + k + v + r, ErrorKind::unknown_name,
         3, "sure"},
        {"unknown key", h + "note = 'n'\n" + k + v + r, ErrorKind::unknown_key, 4, "note"},
        {"twin rows", h + k + v + "rows = [['1 mm2', '1 A'],\n['2 mm2', '2 A'],\n['0.01 cm2', '3 A']]\n",
         ErrorKind::duplicate_name, 8, "the same keys as the one in line 6"},
    };
    for (const Bad& bad : mistakes) {
        const auto table = test::table_from(bad.text);
        EXPECT_FALSE(table.value.has_value()) << bad.what;
        ASSERT_EQ(table.errors.size(), 1U) << bad.what << "\n" << test::describe(table.errors);
        EXPECT_EQ(table.errors[0].kind, bad.kind) << bad.what << "\n" << test::describe(table.errors);
        EXPECT_EQ(table.errors[0].place.line, bad.line) << bad.what << "\n" << test::describe(table.errors);
        EXPECT_NE(table.errors[0].message.find(bad.message), std::string::npos) << bad.what << "\n"
                                                                                << test::describe(table.errors);
    }
}

TEST(ReadTable, ReportsAllMistakesAtOnce) {
    const auto table = test::table_from(std::string(head) + keys + value +
                                        "rows = [['1 mm', '10 A'],\n['2 mm2', '10 V'],\n['3 mm2']]\nextra = 1\n");
    EXPECT_FALSE(table.value.has_value());
    EXPECT_EQ(table.errors.size(), 4U) << test::describe(table.errors);
}

TEST(ReadTable, AcceptsBareNumbersWithoutDimension) {
    const auto table =
        test::table_from(std::string(head) + "keys = [{ name = 'circuits', dimension = 'number', match = 'up' }]\n"
                                             "value = { name = 'factor', dimension = 'number' }\n"
                                             "rows = [[1, 1.0], [2, 0.8], [3, '70 %']]\n");
    ASSERT_TRUE(table) << test::describe(table.errors);
    EXPECT_EQ(table.value->rows[1].value, 0.8);
    EXPECT_DOUBLE_EQ(table.value->rows[2].value, 0.7);
    const auto infinite =
        test::table_from(std::string(head) + "keys = [{ name = 'circuits', dimension = 'number', match = 'up' }]\n"
                                             "value = { name = 'factor', dimension = 'number' }\nrows = [[1, inf]]\n");
    EXPECT_FALSE(infinite);
}

TEST(ReadTable, SurvivesTextThatIsNotToml) {
    EXPECT_FALSE(test::table_from(""));
    EXPECT_FALSE(test::table_from("rows = [["));
    EXPECT_FALSE(test::table_from("keys = 5\nvalue = 'x'\nrows = [[[]]]\n"));
    EXPECT_FALSE(test::table_from("keys = [5]\nvalue = []\nrows = [{}]\n"));
}

} // namespace
} // namespace trivet
