#pragma once

#include "assess/analysis.h"
#include "assess/fault_table.h"
#include "design/design.h"
#include "facts/fact_table.h"
#include "rules/finding.h"
#include "rules/policy.h"
#include "rules/rule.h"
#include "tables/table.h"

#include <memory>
#include <string>
#include <vector>

namespace trivet {

enum class Fitness : std::uint8_t { fit, not_fit, refused };

// The whole check of one design: everything that commands print, compare or search over.
struct Assessment {
    std::shared_ptr<const Analysis> analysis; // the facts' descriptions point into it
    FaultTable single_faults;
    FactTable facts;
    Policy policy;                 // with the design's changes
    std::vector<Finding> findings; // worst first
    Fitness fitness{};
    Errors errors; // of the design's [policy] only; no verdict then
};

// Whether passing verdicts keep the numbers they rest on: needed to show them, dear for large designs.
enum class Detail : std::uint8_t { failures, everything };

// Pure: same inputs, same result. Not fit to power up: a hazard or damage rule fails or cannot be told. Refused: a rule
// marked `refuses` fails; then nothing else is judged. `rules` must outlive the result.
Assessment assess(const Design& design, const RuleSet& rules, const Policy& policy, const Handbook& handbook,
                  Detail detail = Detail::failures);

} // namespace trivet
