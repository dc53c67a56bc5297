#include "facts/schema.h"

#include "expr/parse.h"
#include "expr/typecheck.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

namespace trivet {
namespace {

std::string where(const FactDeclaration& fact) {
    return std::string(subject_kind_names[static_cast<std::size_t>(fact.subject)]) + " " + std::string(fact.name);
}

TEST(Schema, IsOrderedBySubjectAndEveryKindHasFacts) {
    EXPECT_TRUE(std::ranges::is_sorted(fact_schema(), {}, &FactDeclaration::subject));
    std::size_t total = 0;
    for (std::size_t kind = 0; kind < subject_kind_names.size(); ++kind) {
        const FactsOfKind facts = facts_of(static_cast<SubjectKind>(kind));
        EXPECT_GT(facts.count, 0) << subject_kind_names[kind];
        total += facts.count;
    }
    EXPECT_EQ(total, fact_schema().size());
}

TEST(Schema, NamesCanBeWrittenInRulesAndAreUniqueWithinASubject) {
    std::set<std::string> seen;
    for (const FactDeclaration& fact : fact_schema()) {
        const auto parsed = parse_expression(fact.name);
        ASSERT_TRUE(parsed) << where(fact);
        EXPECT_EQ(parsed->node(parsed->root).kind, ExprKind::name) << where(fact);
        EXPECT_TRUE(seen.insert(where(fact)).second) << where(fact) << " is declared twice";
    }
}

TEST(Schema, EveryFactIsExplainedInOneSentence) {
    for (const FactDeclaration& fact : fact_schema()) {
        EXPECT_TRUE(fact.text.ends_with('.')) << where(fact);
        EXPECT_TRUE(fact.text.size() > 10 && fact.text[0] >= 'A' && fact.text[0] <= 'Z') << where(fact);
        EXPECT_EQ(to_text(fact.type).find("another kind"), std::string::npos)
            << where(fact) << " has no named dimension";
    }
}

TEST(Schema, FindsEveryFactByItsNameAndNothingElse) {
    for (std::uint16_t i = 0; i < fact_schema().size(); ++i) {
        const FactDeclaration& fact = fact_schema()[i];
        const FactLookup found = find_fact(fact.subject, fact.name);
        ASSERT_TRUE(found.found) << where(fact);
        EXPECT_EQ(found.id.value, i) << where(fact);
        EXPECT_EQ(declaration(found.id).name, fact.name);
    }
    EXPECT_FALSE(find_fact(SubjectKind::wire, "breaking_capacity").found); // of a fuse
    EXPECT_FALSE(find_fact(SubjectKind::wire, "").found);
}

} // namespace
} // namespace trivet
