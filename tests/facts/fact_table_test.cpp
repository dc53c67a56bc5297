#include "facts/fact_table.h"

#include <gtest/gtest.h>

#include <limits>

namespace trivet {
namespace {

FactId id(SubjectKind kind, std::string_view name) {
    const FactLookup found = find_fact(kind, name);
    EXPECT_TRUE(found.found) << name;
    return found.id;
}

Fact amperes(double value) {
    Fact fact;
    fact.value = AnyQuantity{value, dim::current};
    return fact;
}

TEST(FactTable, KeepsEachSubjectsFactsApart) {
    FactTable table;
    const SubjectId first = table.add({SubjectKind::wire, "W1", {}});
    const SubjectId fuse = table.add({SubjectKind::fuse, "main_fuse", {}});
    const SubjectId second = table.add({SubjectKind::wire, "W2", {}});
    const FactId wire_current = id(SubjectKind::wire, "current");
    const FactId fuse_current = id(SubjectKind::fuse, "current");
    table.set(first, wire_current, amperes(1.0));
    table.set(fuse, fuse_current, amperes(2.0));
    table.set(second, wire_current, amperes(3.0));
    EXPECT_EQ(std::get<AnyQuantity>(table.find(first, wire_current)->value).si, 1.0);
    EXPECT_EQ(std::get<AnyQuantity>(table.find(fuse, fuse_current)->value).si, 2.0);
    EXPECT_EQ(std::get<AnyQuantity>(table.find(second, wire_current)->value).si, 3.0);
    EXPECT_EQ(table.find(first, id(SubjectKind::wire, "area")), nullptr);
    ASSERT_EQ(table.of_kind(SubjectKind::wire).size(), 2U);
    EXPECT_EQ(table.of_kind(SubjectKind::wire)[1], second);
    EXPECT_TRUE(table.of_kind(SubjectKind::pin).empty());
    EXPECT_EQ(table.subject(fuse).name, "main_fuse");
}

TEST(FactTable, PutsCircumstancesIntoWordsOnlyWhenAsked) {
    FactTable table;
    int asked = 0;
    table.describe_with([&](Circumstance circumstance) {
        ++asked;
        return "state " + std::to_string(circumstance);
    });
    const SubjectId wire = table.add({SubjectKind::wire, "W1", {}});
    Fact fact = amperes(1.0);
    fact.circumstance = 7;
    table.set(wire, id(SubjectKind::wire, "current"), fact);
    EXPECT_EQ(asked, 0);
    EXPECT_EQ(table.describe(table.find(wire, id(SubjectKind::wire, "current"))->circumstance), "state 7");
    EXPECT_EQ(table.describe(no_circumstance), "");
    EXPECT_EQ(asked, 1);
}

TEST(FactTable, NeverLetsAValueOfTheWrongKindPass) {
    FactTable table;
    const SubjectId wire = table.add({SubjectKind::wire, "W1", {}});
    const FactId current = id(SubjectKind::wire, "current");
    Fact volts;
    volts.value = AnyQuantity{24.0, dim::voltage};
    Fact truth;
    truth.value = true;
    for (const Fact& wrong : {volts, truth, amperes(std::numeric_limits<double>::quiet_NaN())}) {
        table.set(wire, current, wrong);
        ASSERT_FALSE(is_known(table.find(wire, current)->value));
        EXPECT_NE(
            std::get<Unknown>(table.find(wire, current)->value).reasons.at(0).find("'current' should be a current"),
            std::string::npos);
    }
    table.set(wire, current, amperes(std::numeric_limits<double>::infinity()));
    EXPECT_TRUE(is_known(table.find(wire, current)->value));
}

} // namespace
} // namespace trivet
