#pragma once

#include "rules/policy.h"
#include "rules/rule.h"
#include "source/file.h"
#include "source/loaded.h"
#include "tables/table.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// An expression or a sentence of a rule as it stands in the file.
struct RuleText {
    std::string name; // the key: "require", or the name of a let
    std::string_view text;
    Place place; // of the opening quote
    Place key_place;
    const SourceFile* shared_from = nullptr; // for lets that all rules of a subject may use: the file they stand in
};

struct RuleTexts {
    std::optional<RuleText> applies;
    RuleText require;
    std::vector<RuleText> lets;
    std::vector<RuleText> sentences; // message and remedy
};

// Parses and type-checks the expressions of a rule whose subject is known, orders its lets and binds every name. Files
// all errors at their places in the rule file.
void bind_rule(Rule& rule, const RuleTexts& texts, const SourceFile& file, const Policy& policy,
               const Handbook& handbook, Errors& errors);

} // namespace trivet
