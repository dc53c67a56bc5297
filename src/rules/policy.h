#pragma once

#include "expr/value.h"
#include "source/file.h"
#include "source/loaded.h"

#include <string>
#include <vector>

namespace trivet {

// A margin or limit of practice that a user may change in [policy]; the change is reported with every verdict.
// Declared in rules/policy.toml: [supply_load_factor] value = "0.8" dimension = "number" text = "..." source = "..."
struct PolicyItem {
    std::string name;
    AnyQuantity value;
    AnyQuantity shipped; // what the library ships
    std::string text;
    std::string source;
    Place place;
    bool changed = false;
};

struct Policy {
    std::vector<PolicyItem> items;
    const PolicyItem* find(std::string_view name) const;
};

Loaded<Policy> read_policy(const SourceFile& file);

// Changes one item to what a design states, as written ("0.9", "25 V"); `place` is where. On errors nothing changes.
Errors apply(Policy& policy, std::string_view name, std::string_view text, Place place);

} // namespace trivet
