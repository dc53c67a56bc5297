#pragma once

#include "rules/policy.h"
#include "rules/rule.h"
#include "tables/table.h"

#include <string>

namespace trivet {

// Plain-text pages of `trivet explain`: one rule (requirement, why, formula, facts used with their texts, policy
// values, tables with sources, limits), the list of rules, the table of facts, the policy, one published table.
std::string explain_rule(const Rule& rule, const Policy& policy, const Handbook& handbook);
std::string list_rules(const RuleSet& rules);
std::string list_facts();
std::string list_policy(const Policy& policy);
std::string explain_table(const PublishedTable& table);

} // namespace trivet
