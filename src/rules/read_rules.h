#pragma once

#include "rules/policy.h"
#include "rules/rule.h"
#include "source/file.h"
#include "source/loaded.h"
#include "tables/table.h"

#include <span>

namespace trivet {

// Reads and type-checks rules against the fact schema, the policy and the tables: a rule that does not type-check is an
// error at its place in the rule file, and all errors of all files are returned. Names in expressions mean, in this
// order: the rule's own lets, facts of its subject kind, policy items. Later files with the same rule name replace
// earlier ones (a user's --rules folder wins over the library), which `replaced` reports.
struct RulesRead {
    RuleSet set;
    std::vector<std::string> replaced;
};
Loaded<RulesRead> read_rules(std::span<const SourceFile> files, const Policy& policy, const Handbook& handbook);

} // namespace trivet
