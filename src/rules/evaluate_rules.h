#pragma once

#include "rules/finding.h"
#include "rules/policy.h"
#include "rules/rule.h"
#include "tables/table.h"

namespace trivet {

// Every rule on every subject of its kind it applies to. Pure: same inputs, same findings. `only_refusing` judges just
// the rules marked `refuses`.
std::vector<Finding> evaluate_rules(const RuleSet& rules, const FactTable& facts, const Policy& policy,
                                    const Handbook& handbook, bool only_refusing = false);

} // namespace trivet
