#include "expr/parse.h"

#include <gtest/gtest.h>

#include <string>

namespace trivet {
namespace {

struct Reading {
    const char* text;
    const char* bracketed;
};

TEST(Parse, BindsOperatorsAsInWrittenArithmetic) {
    const Reading rows[] = {
        {"a + b * c", "(a + (b * c))"},
        {"(a + b) * c", "((a + b) * c)"},
        {"a - b - c", "((a - b) - c)"},
        {"a / b / c", "((a / b) / c)"},
        {"-a * b", "((-a) * b)"},
        {"a - -b", "(a - (-b))"},
        {"a + b <= c * d", "((a + b) <= (c * d))"},
        {"not a and b", "((not a) and b)"},
        {"not a == b", "(not (a == b))"},
        {"a or b and c", "(a or (b and c))"},
        {"a and b or c and d", "((a and b) or (c and d))"},
        {"a < b and b < c", "((a < b) and (b < c))"},
        {"not not a", "(not (not a))"},
        {"if(a < b, c, 2)", "if((a < b), c, 2)"},
        {"min(a, b, 3) + max(1, 2)", "(min(a, b, 3) + max(1, 2))"},
        {"sqrt(abs(a))", "sqrt(abs(a))"},
        {"lookup('wire-current', area, \"pvc\")", "lookup('wire-current', area, 'pvc')"},
        {"lookup(\"wire-current\", area)", "lookup('wire-current', area)"},
        {"stated(a) and a > 1", "(stated(a) and (a > 1))"},
        {"a == \"pvc\" or b != 'screw'", "((a == 'pvc') or (b != 'screw'))"},
        {"  a\n+\tb ", "(a + b)"},
        {"1.5e3 + 2.", "(1500 + 2)"},
        {"true or false", "(true or false)"},
        {"notable", "notable"},
    };
    for (const Reading& row : rows) {
        const auto parsed = parse_expression(row.text);
        ASSERT_TRUE(parsed) << row.text << ": " << parsed.error().message;
        EXPECT_EQ(to_text(*parsed), row.bracketed) << row.text;
    }
}

struct Mistake {
    const char* text;
    std::size_t offset;
    const char* fragment; // of the message or the hint
};

TEST(Parse, PlacesEveryMistake) {
    const Mistake rows[] = {
        {"", 0, "ends too early"},
        {"a +", 3, "ends too early"},
        {"a b", 2, "'b' does not fit here"},
        {"(a + b", 6, "closing bracket"},
        {"a)", 1, "')' does not fit"},
        {"a < b < c", 6, "do not chain"},
        {"a == b == c", 7, "do not chain"},
        {"a = b", 2, "write '=='"},
        {"a && b", 2, "write 'and'"},
        {"!a", 0, "write 'not'"},
        {"a ≤ b", 2, "write '<='"},
        {"5V", 1, "written in quotes"},
        {"5 + 24V", 6, "written in quotes"},
        {"1.2.3", 3, "does not belong"},
        {"'open", 0, "does not end"},
        {"a + 'open", 4, "does not end"},
        {"mix(a, b)", 0, "did you mean"},
        {"min(a)", 0, "min(a, b, ...)"},
        {"if(a, b)", 0, "if(condition, a, b)"},
        {"sqrt(a, b)", 0, "sqrt(a)"},
        {"stated(a + b)", 0, "stated(name)"},
        {"lookup(area)", 7, "name of a table"},
        {"lookup('wire-current')", 21, "at least one key"},
        {"min(a b)", 6, "comma"},
        {"and a", 0, "'and' does not fit"},
        {"a + or", 4, "'or' does not fit"},
        {"a ° b", 2, "not part of the rule language"},
        {"1e999", 0, "not a usable number"},
    };
    for (const Mistake& row : rows) {
        const auto parsed = parse_expression(row.text);
        ASSERT_FALSE(parsed) << row.text << " was read as " << to_text(*parsed);
        EXPECT_EQ(parsed.error().offset, row.offset) << row.text << ": " << parsed.error().message;
        const std::string all = parsed.error().message + " | " + parsed.error().hint;
        EXPECT_NE(all.find(row.fragment), std::string::npos) << row.text << ": " << all;
    }
}

TEST(Parse, RefusesTooDeepAndTooLongWithoutOverflowingTheStack) {
    const std::string deep = std::string(1000, '(') + "a" + std::string(900, ')');
    EXPECT_NE(parse_expression(deep).error().message.find("nested too deeply"), std::string::npos);
    std::string minus(1500, '-');
    EXPECT_NE(parse_expression(minus + "a").error().message.find("nested too deeply"), std::string::npos);
    std::string chain = "a";
    for (int i = 0; i < 200; ++i) chain += "+a";
    EXPECT_NE(parse_expression(chain).error().message.find("nested too deeply"), std::string::npos);
    EXPECT_NE(parse_expression(std::string(2001, 'a')).error().message.find("2000 characters"), std::string::npos);
    EXPECT_TRUE(parse_expression(std::string(50, '(') + "a" + std::string(50, ')')));
}

TEST(Parse, KeepsWhereEachPartStands) {
    const auto parsed = parse_expression("(current + 2) <= rated");
    ASSERT_TRUE(parsed);
    const ExprNode& root = parsed->node(parsed->root);
    EXPECT_EQ(root.offset, 14U); // the operator
    EXPECT_EQ(parsed->text_of(root.operands[0]), "(current + 2)");
    EXPECT_EQ(parsed->text_of(root.operands[1]), "rated");
    EXPECT_EQ(parsed->text_of(parsed->root), "(current + 2) <= rated");
}

TEST(Parse, ReadsBackItsOwnText) {
    for (const char* text :
         {"a + b * -c <= min(d, 2) or not e", "if(a, 'x', \"y\") == f", "lookup('t', a, 'b') / 0.8"}) {
        const auto once = parse_expression(text);
        ASSERT_TRUE(once);
        const auto twice = parse_expression(to_text(*once));
        ASSERT_TRUE(twice);
        EXPECT_EQ(to_text(*twice), to_text(*once));
    }
}

} // namespace
} // namespace trivet
