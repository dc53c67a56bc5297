#include "expr/expr_support.h"

#include <gtest/gtest.h>

#include <limits>
#include <optional>

namespace trivet {
namespace {

using Strings = std::vector<std::string>;
constexpr double infinite = std::numeric_limits<double>::infinity();

testing::Scope scope() {
    testing::Scope scope;
    scope.add("no", false);
    scope.add_unknown("open", TruthType{});
    scope.add("yes", true);
    scope.add("load", AnyQuantity{2.0, dim::current});
    scope.add("rating", AnyQuantity{3.0, dim::current});
    scope.add("nothing", AnyQuantity{0.0, dim::current});
    scope.add("endless", AnyQuantity{infinite, dim::current});
    scope.add_unknown("hidden", dim::current);
    scope.add_unknown("secret", dim::current);
    scope.add("hot", AnyQuantity{373.15, dim::temperature});
    scope.add("limit", AnyQuantity{383.15, dim::temperature});
    scope.add("area", AnyQuantity{1.2e-6, dim::area});
    scope.add("thin", AnyQuantity{0.5e-6, dim::area});
    scope.add_unknown("lost_area", dim::area);
    scope.add_text("insulation", "pvc");
    scope.add("broken", AnyQuantity{std::numeric_limits<double>::quiet_NaN(), dim::current});
    scope.handbook.tables.emplace("wire-current", testing::small_table());
    return scope;
}

struct Result {
    ValueRef value;
    std::optional<double> margin;
    Unknown why;
    Strings names;
    std::string text;
};

Result run(const testing::Scope& scope, std::string_view text) {
    const auto compiled = scope.compile(text);
    if (!compiled) {
        ADD_FAILURE() << text << ": " << compiled.error().message;
        return {};
    }
    Trace trace;
    const Outcome outcome = scope.run(*compiled, &trace);
    const Outcome untraced = scope.run(*compiled);
    EXPECT_EQ(untraced.value.kind, outcome.value.kind) << text;
    EXPECT_EQ(untraced.deciding.ratio, outcome.deciding.ratio) << text;
    Result result{outcome.value, std::nullopt, {}, scope.names_of(trace), {}};
    if (outcome.deciding) result.margin = outcome.deciding.ratio;
    if (outcome.value.unknown != nullptr) result.why = *outcome.value.unknown;
    result.value.unknown = nullptr;
    return result;
}

char letter(const ValueRef& value) { return value.is_true() ? 'T' : value.is_false() ? 'F' : 'U'; }

// Kleene's strong logic of three values (Introduction to Metamathematics, 1952, section 64): all nine cells each.
TEST(Evaluate, HasKleenesTruthTables) {
    const testing::Scope names = scope();
    const char* const operands[] = {"no", "open", "yes"};
    struct Table {
        const char* op;
        const char* cells; // rows: left no, open, yes; columns: right no, open, yes
    };
    const Table tables[] = {
        {"and", "FFFFUUFUT"},
        {"or", "FUTUUTTTT"},
        {"==", "TUFUUUFUT"},
        {"!=", "FUTUUUTUF"},
    };
    for (const Table& table : tables) {
        for (std::size_t i = 0; i < 9; ++i) {
            const std::string text = std::string(operands[i / 3]) + " " + table.op + " " + operands[i % 3];
            EXPECT_EQ(letter(run(names, text).value), table.cells[i]) << text;
        }
    }
    EXPECT_EQ(letter(run(names, "not no").value), 'T');
    EXPECT_EQ(letter(run(names, "not open").value), 'U');
    EXPECT_EQ(letter(run(names, "not yes").value), 'F');
}

TEST(Evaluate, IsUnknownWhereANumberIsUnknown) {
    const testing::Scope names = scope();
    for (const char* op : {"<", "<=", ">", ">=", "==", "!="}) {
        for (const char* sides : {"load hidden", "hidden load", "hidden secret"}) {
            const std::string both(sides);
            const std::size_t gap = both.find(' ');
            const std::string text = both.substr(0, gap) + " " + op + both.substr(gap);
            EXPECT_EQ(letter(run(names, text).value), 'U') << text;
        }
    }
    for (const char* text :
         {"hidden + load", "load * hidden", "-hidden", "abs(hidden)", "sqrt(hidden * load)", "min(load, hidden)",
          "if(open, load, rating)", "if(yes, hidden, load)", "lookup('wire-current', lost_area, insulation)"}) {
        EXPECT_FALSE(run(names, text).value.is_known()) << text;
    }
    EXPECT_EQ(run(names, "if(no, hidden, load)").value.si, 2.0);
    EXPECT_EQ(letter(run(names, "stated(hidden)").value), 'F');
    EXPECT_EQ(letter(run(names, "stated(load)").value), 'T');
}

struct Number {
    const char* text;
    double si;
};

TEST(Evaluate, Computes) {
    const testing::Scope names = scope();
    const Number rows[] = {
        {"load + rating * 2", 8.0},
        {"-load - -rating", 1.0},
        {"min(load, rating, \"1 A\")", 1.0},
        {"max(load, rating, \"1 A\")", 3.0},
        {"abs(load - rating)", 1.0},
        {"sqrt(load * load)", 2.0},
        {"if(load < rating, load, rating)", 2.0},
        {"hot - \"25 °C\"", 75.0},
        {"\"20 °C\" + \"5 K\"", 298.15},
        {"lookup('wire-current', area, insulation) * 0.5", 6.2},
        {"lookup('wire-current', \"1.5 mm2\", 'pvc')", 16.1},
        {"endless + load", infinite},
        {"min(endless, load)", 2.0},
        {"load / endless", 0.0},
    };
    for (const Number& row : rows) EXPECT_DOUBLE_EQ(run(names, row.text).value.si, row.si) << row.text;
}

struct Undefined {
    const char* text;
    const char* reason;
};

TEST(Evaluate, SaysWhatStandsInTheWay) {
    const testing::Scope names = scope();
    const Undefined rows[] = {
        {"load / nothing", "'load / nothing' divides by zero"},
        {"nothing / nothing", "'nothing / nothing' divides by zero"},
        {"sqrt(load * (load - rating))", "'sqrt(load * (load - rating))' is the root of a negative number"},
        {"endless - endless", "'endless - endless' has no value where something is without limit"},
        {"endless * nothing", "'endless * nothing' has no value where something is without limit"},
        {"endless / endless", "'endless / endless' has no value where something is without limit"},
        {"broken", "'broken' could not be computed"},
        {"1e30*1e30*1e30*1e30*1e30*1e30*1e30*1e30*1e30*1e30*1e30", "is too large to compute"},
    };
    for (const Undefined& row : rows) {
        const Result result = run(names, row.text);
        EXPECT_FALSE(result.value.is_known()) << row.text;
        ASSERT_EQ(result.why.reasons.size(), 1U) << row.text;
        EXPECT_NE(result.why.reasons[0].find(row.reason), std::string::npos) << result.why.reasons[0];
    }
    const Result table = run(names, "lookup('wire-current', thin, insulation)");
    EXPECT_FALSE(table.value.is_known());
    ASSERT_EQ(table.why.reasons.size(), 1U);
    EXPECT_NE(table.why.reasons[0].find("wire-current"), std::string::npos) << table.why.reasons[0];
}

TEST(Evaluate, CollectsTheReasonsThatMatter) {
    const testing::Scope names = scope();
    EXPECT_EQ(run(names, "hidden + secret <= load").why.missing, (Strings{"hidden of it", "secret of it"}));
    EXPECT_EQ(run(names, "hidden + hidden <= load").why.missing, (Strings{"hidden of it"}));
    EXPECT_EQ(run(names, "open and hidden <= load").why.missing, (Strings{"open of it", "hidden of it"}));
    EXPECT_EQ(run(names, "open and load <= rating").why.missing, (Strings{"open of it"}));
    EXPECT_EQ(run(names, "open and load > rating").why.missing, Strings{});
    const Result mixed = run(names, "hidden <= load * load / nothing");
    EXPECT_EQ(mixed.why.missing, Strings{"hidden of it"});
    EXPECT_EQ(mixed.why.reasons, Strings{"'load * load / nothing' divides by zero"});
}

TEST(Evaluate, NamesWhatItUsedInOrderWithoutIdleBranches) {
    const testing::Scope names = scope();
    EXPECT_EQ(run(names, "rating >= load + rating").names, (Strings{"rating", "load"}));
    EXPECT_EQ(run(names, "no and load <= rating").names, Strings{"no"});
    EXPECT_EQ(run(names, "yes or load <= rating").names, (Strings{"yes", "load", "rating"}));
    EXPECT_EQ(run(names, "yes or load > rating").names, Strings{"yes"});
    EXPECT_EQ(run(names, "yes and load <= rating").names, (Strings{"yes", "load", "rating"}));
    EXPECT_EQ(run(names, "if(yes, load, rating)").names, (Strings{"yes", "load"}));
    EXPECT_EQ(run(names, "stated(hidden) and hidden <= load").names, Strings{"hidden"});
}

struct MarginRow {
    const char* text;
    std::optional<double> margin;
};

TEST(Evaluate, GivesTheMarginOfTheDecidingComparison) {
    const testing::Scope names = scope();
    const MarginRow rows[] = {
        {"load <= rating", 1.5},
        {"load < rating", 1.5},
        {"rating >= load", 1.5},
        {"rating > load", 1.5},
        {"rating <= load", 2.0 / 3.0},
        {"not load > rating", 1.5},
        {"not (load <= rating)", 2.0 / 3.0},
        {"nothing <= rating", infinite},
        {"load <= endless", infinite},
        {"endless <= load", 0.0},
        {"load <= nothing", 0.0},
        {"load == rating", std::nullopt},
        {"insulation == 'pvc'", std::nullopt},
        {"yes", std::nullopt},
        {"hidden <= load", std::nullopt},
        {"hot <= limit", 1.10},
        {"limit <= hot", 0.90},
        {"hot <= \"0 °C\"", 0.0},
        {"load <= rating and load <= \"2.5 A\"", 1.25},
        {"load <= \"2.5 A\" and load <= rating", 1.25},
        {"load <= rating or load <= \"2.5 A\"", 1.5},
        {"load <= \"2.5 A\" or load <= rating", 1.5},
        {"load <= rating or load <= \"1 A\"", 1.5},
        {"load <= \"1 A\" and load <= rating", 0.5},
        {"load <= \"1 A\" and load <= \"0.5 A\"", 0.25},
        {"load <= \"1 A\" or load <= \"0.5 A\"", 0.5},
        {"yes and load <= rating", 1.5},
        {"no and load <= rating", std::nullopt},
        {"if(yes, load <= rating, no)", 1.5},
    };
    for (const MarginRow& row : rows) {
        const Result result = run(names, row.text);
        ASSERT_EQ(result.margin.has_value(), row.margin.has_value()) << row.text;
        if (row.margin) {
            EXPECT_DOUBLE_EQ(*result.margin, *row.margin) << row.text;
        }
    }
}

TEST(MarginRatio, IsAtLeastOneExactlyWhenTheLoadIsWithinTheRating) {
    const double values[] = {-infinite, -3.0, -2.0, -1e-30, 0.0, 1e-30, 2.0, 2.0000000000000004, 3.0, infinite};
    for (const double load : values) {
        for (const double rating : values) {
            for (const bool point : {false, true}) {
                const double ratio = margin_ratio(load, rating, point);
                EXPECT_GE(ratio, 0.0);
                if (!point || std::abs(rating - load) > 1e-9) {
                    EXPECT_EQ(ratio >= 1.0, load <= rating) << load << " <= " << rating << " gives " << ratio;
                }
            }
        }
    }
    EXPECT_DOUBLE_EQ(margin_ratio(-3.0, -2.0, false), 1.5);
    EXPECT_DOUBLE_EQ(margin_ratio(-2.0, -3.0, false), 2.0 / 3.0);
    EXPECT_EQ(margin_ratio(-1.0, 5.0, false), infinite);
}

TEST(Evaluate, KnowsTheSidesOfTheDecidingComparison) {
    const testing::Scope names = scope();
    const auto compiled = names.compile("yes and (load <= \"2.5 A\" and not rating > \"4 A\")");
    ASSERT_TRUE(compiled);
    const Outcome outcome = names.run(*compiled);
    ASSERT_TRUE(outcome.deciding);
    EXPECT_EQ(compiled->text_of(outcome.deciding.comparison), "load <= \"2.5 A\"");
    EXPECT_EQ(outcome.deciding.left, 2.0);
    EXPECT_EQ(outcome.deciding.right, 2.5);
    EXPECT_FALSE(outcome.deciding.negated);
}

TEST(Comparison, TakesRoundingForEqual) {
    testing::Scope names = scope();
    const auto holds = [&](const std::string& text) {
        const auto compiled = names.compile(text);
        return compiled && names.run(*compiled).value.is_true();
    };
    EXPECT_TRUE(holds("0.1 + 0.2 <= 0.3"));
    EXPECT_TRUE(holds("0.1 + 0.2 == 0.3"));
    EXPECT_FALSE(holds("0.1 + 0.2 > 0.3"));
    EXPECT_FALSE(holds("1.00001 <= 1"));
}

TEST(LookupCache, AnswersTheSameAfterManyOtherKeys) {
    testing::Scope names = scope();
    const auto compiled = names.compile("lookup('wire-current', area, insulation)");
    ASSERT_TRUE(compiled);
    LookupCache cache(names.handbook);
    const ExprNode& call = compiled->node(compiled->root);
    const auto at = [&](double square_millimetres) {
        const ValueRef keys[] = {refer_to(AnyQuantity{square_millimetres * 1e-6, dim::area}), {}};
        ValueRef both[] = {keys[0], {.kind = ValueRef::Kind::text, .text = "pvc"}};
        return cache.look_up(*compiled, call, both);
    };
    for (int round = 0; round < 3; ++round) {
        for (int i = 0; i < 40; ++i) {
            EXPECT_EQ(at(0.75 + 0.001 * i).value(), 10.4);
            EXPECT_EQ(at(1.5 + i).value(), 16.1);
            EXPECT_FALSE(at(0.01 * (i + 1)).has_value());
        }
    }
}

} // namespace
} // namespace trivet
