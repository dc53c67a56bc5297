#include "expr/expr_support.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

testing::Scope scope() {
    testing::Scope scope;
    scope.add("current", AnyQuantity{2.0, dim::current});
    scope.add("voltage", AnyQuantity{24.0, dim::voltage});
    scope.add("power", AnyQuantity{48.0, dim::power});
    scope.add("resistance", AnyQuantity{9.6, dim::resistance});
    scope.add("area", AnyQuantity{1e-6, dim::area});
    scope.add("ambient", AnyQuantity{308.15, dim::temperature});
    scope.add("rise", AnyQuantity{20.0, dim::temperature_difference});
    scope.add("factor", AnyQuantity{0.8, dim::number});
    scope.add("insulated", true);
    scope.add_text("insulation", "pvc");
    scope.handbook.tables.emplace("wire-current", testing::small_table());
    return scope;
}

struct Typed {
    const char* text;
    ExprType type;
};

TEST(Types, FollowDimensions) {
    const Typed rows[] = {
        {"current", dim::current},
        {"voltage / current", dim::resistance},
        {"voltage * current", dim::power},
        {"current * current * resistance", dim::power},
        {"sqrt(power / resistance)", dim::current},
        {"sqrt(voltage * voltage)", dim::voltage},
        {"power / power", dim::number},
        {"-current + current * 2", dim::current},
        {"abs(voltage - \"5 V\")", dim::voltage},
        {"min(current, \"3 A\", 2 * current)", dim::current},
        {"max(\"1 A\", current)", dim::current},
        {"if(insulated, current, \"2 A\")", dim::current},
        {"if(insulated, \"1 A\", current)", dim::current},
        {"if(insulated, 'a', 'b')", TextType{}},
        {"lookup('wire-current', area, insulation) * factor", dim::current},
        {"lookup('wire-current', \"0.75 mm2\", 'pvc')", dim::current},
        {"ambient - \"25 °C\"", dim::temperature_difference},
        {"ambient - \"5 K\"", dim::temperature},
        {"ambient + \"5 K\"", dim::temperature},
        {"\"5 K\" + ambient", dim::temperature},
        {"rise + \"25 °C\"", dim::temperature},
        {"\"100 °C\" - ambient", dim::temperature_difference},
        {"\"100 °C\" - rise", dim::temperature},
        {"\"20 °C\" + \"5 K\"", dim::temperature},
        {"\"5 K\" + \"20 °C\"", dim::temperature},
        {"rise - \"5 K\"", dim::temperature_difference},
        {"ambient + rise", dim::temperature},
        {"ambient - ambient", dim::temperature_difference},
        {"(ambient - \"25 °C\") / rise", dim::number},
        {"current <= \"5 A\"", TruthType{}},
        {"\"5 A\" >= current", TruthType{}},
        {"current <= if(insulated, \"5 A\", \"3 A\")", TruthType{}},
        {"current <= min(\"5 A\", \"3 A\")", TruthType{}},
        {"current <= -\"5 A\"", TruthType{}},
        {"ambient < \"75 °C\"", TruthType{}},
        {"insulation == 'pvc' and insulated", TruthType{}},
        {"insulated == false", TruthType{}},
        {"stated(current) or not insulated", TruthType{}},
        {"power <= \"5 V\" * current", TruthType{}},
        {"factor < 1", TruthType{}},
        {"factor < \"80 %\"", TruthType{}},
    };
    const testing::Scope names = scope();
    for (const Typed& row : rows) {
        const auto compiled = names.compile(row.text);
        ASSERT_TRUE(compiled) << row.text << ": " << compiled.error().message;
        EXPECT_EQ(compiled->type(), row.type) << row.text << " is " << to_text(compiled->type());
    }
}

struct Mistake {
    const char* text;
    std::size_t offset;
    const char* fragment; // of the message or the hint
};

TEST(Types, RefuseWhatDoesNotFitAtItsPlace) {
    const Mistake rows[] = {
        {"current <= voltage", 8,
         "'current' is a current and 'voltage' is a voltage; only like can be compared with like"},
        {"current + voltage", 8, "only like can be added to like"},
        {"current - 1", 8, "write the number with its unit in quotes, for example \"2 A\""},
        {"voltage <= 60", 8, "write the number with its unit in quotes, for example \"24 V\""},
        {"voltage <= \"60 A\"", 12, ""},
        {"voltage <= \"60 Volt\"", 15, "Volt"},
        {"voltage <= \"\"", 12, ""},
        {"ambient < rise", 8, "'ambient' is a temperature and 'rise' is a temperature difference"},
        {"ambient * 2", 0, "only a temperature difference can be multiplied"},
        {"2 / ambient", 4, "only a temperature difference can be divided"},
        {"\"25 °C\" * 2", 0, "only a temperature difference can be multiplied"},
        {"-ambient", 1, "can be negated"},
        {"ambient + ambient", 8, "two temperatures cannot be added"},
        {"rise - ambient", 5, "cannot be subtracted from a temperature difference"},
        {"ambient + \"25 °C\" + ambient", 19, "two temperatures cannot be added"},
        {"insulation < 'pvc'", 11, "only numbers have an order"},
        {"insulation == current", 11, "'insulation' is a text and 'current' is a current"},
        {"insulated == 1", 10, "'insulated' is a truth value"},
        {"insulated + 1", 0, "a number is due here"},
        {"not current", 4, "a truth value is due here"},
        {"current and insulated", 0, "write a comparison"},
        {"if(current, 1, 2)", 3, "a truth value is due here"},
        {"if(insulated, 1, current)", 17, "both answers of 'if' must be alike"},
        {"sqrt(voltage)", 5, "not the square of anything"},
        {"min(current, voltage)", 13, "only like can be compared with like"},
        {"curent", 0, "did you mean 'current'"},
        {"lookup('wire-curent', area, insulation)", 0, "did you mean 'wire-current'"},
        {"lookup('wire-current', area)", 0, "its keys are: area, insulation"},
        {"lookup('wire-current', current, insulation)", 23,
         "'current' is a current, but the key 'area' of the table 'wire-current' is an area"},
        {"lookup('wire-current', area, area)", 29, "is a text"},
        {"lookup('wire-current', \"1 A\", insulation)", 24, ""},
        {"2 * \"5 apples\"", 4, "not a number with a unit"},
        {"stated(curent)", 7, "not a name known here"},
    };
    const testing::Scope names = scope();
    for (const Mistake& row : rows) {
        const auto compiled = names.compile(row.text);
        ASSERT_FALSE(compiled) << row.text << " was taken for " << to_text(compiled->type());
        EXPECT_EQ(compiled.error().offset, row.offset) << row.text << ": " << compiled.error().message;
        const std::string all = compiled.error().message + " | " + compiled.error().hint;
        EXPECT_NE(all.find(row.fragment), std::string::npos) << row.text << ": " << all;
    }
}

TEST(Types, RefuseAbsurdPowersInsteadOfOverflowing) {
    std::string text = "power";
    for (int i = 0; i < 50; ++i) text += " * power";
    const auto compiled = scope().compile(text);
    ASSERT_FALSE(compiled);
    EXPECT_NE(compiled.error().message.find("no physical meaning"), std::string::npos);
}

} // namespace
} // namespace trivet
