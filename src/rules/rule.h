#pragma once

#include "expr/ast.h"
#include "facts/schema.h"
#include "source/span.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// What a failed rule costs, worst first.
enum class Consequence : std::uint8_t { hazard, damage, malfunction, advice };
inline constexpr std::array<std::string_view, 4> consequence_names{"hazard", "damage", "malfunction", "advice"};
static_assert(consequence_names.size() == static_cast<std::size_t>(Consequence::advice) + 1);

struct Let {
    std::string name;
    Expression expression;
    ExprType type;
    Place place;
};

// What a name in a rule's expressions means; `slot` of the name's node counts into Rule::names.
enum class NameKind : std::uint8_t { let, fact, policy };
struct RuleName {
    std::string name;
    NameKind kind{};
    std::uint32_t index = 0; // of the let, the fact (FactId), the item of the policy the rule was read with
};

// One rule = one file rules/<subject>/<rule-name>.toml; every text in it is for people.
struct Rule {
    std::string name; // the file's name: what it requires, "conductor-current"
    std::string file; // shown to the user
    Place place;
    SubjectKind subject{};
    Consequence consequence{};
    bool refuses = false; // judged first, from what needs no solving; its failure ends the check
    std::string title;
    std::optional<Expression> applies; // absent: to every subject of the kind; false: not evaluated at all
    Expression require;
    std::vector<Let> lets;            // in dependency order
    std::vector<RuleName> names;      // by slot
    std::vector<std::uint32_t> shown; // slots of the names that message and remedy show
    std::string message;              // "{subject} carries {current} but may carry {rated_current}."
    std::string why;
    std::string remedy; // may use placeholders too
    std::string limits; // what the rule does not see
    std::vector<std::string> source;
};

struct RuleSet {
    std::vector<Rule> rules; // by name
    const Rule* find(std::string_view name) const;
};

} // namespace trivet
