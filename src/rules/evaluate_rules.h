#pragma once

#include "rules/finding.h"
#include "rules/policy.h"
#include "rules/rule.h"
#include "tables/table.h"

namespace trivet {

// Which findings keep the numbers they rest on. A pass without evidence still has its margin.
enum class EvidenceDepth : std::uint8_t { unless_passing, everything };

// Every rule on every subject of its kind it applies to. Pure: same inputs, same findings. `only_refusing` judges just
// the rules marked `refuses`. Where it cannot be told whether a rule applies, a requirement that holds anyway passes
// and anything else cannot be told. `rules` must outlive the findings.
std::vector<Finding> evaluate_rules(const RuleSet& rules, const FactTable& facts, const Policy& policy,
                                    const Handbook& handbook, bool only_refusing = false,
                                    EvidenceDepth depth = EvidenceDepth::everything);

} // namespace trivet
