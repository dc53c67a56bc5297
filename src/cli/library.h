#pragma once

#include "catalog/catalog.h"
#include "cli/arguments.h"
#include "rules/policy.h"
#include "rules/read_rules.h"
#include "source/file.h"
#include "tables/table.h"

#include <string>
#include <vector>

namespace trivet {

// Everything a design is judged with: the embedded library and the user's own rules and parts over it.
struct Library {
    Catalog catalog;
    Handbook handbook;
    Policy policy;
    RuleSet rules;
    std::vector<std::string> notes; // own rules and parts that win over the library: said with every verdict
};

// `parts/` beside `design` (may be empty) is read as if given with --parts.
Loaded<Library> load_library(Sources& sources, const Folders& folders, const std::string& design);

// The parts alone.
Loaded<Catalog> load_catalog(Sources& sources, const Folders& folders, const std::string& design);

} // namespace trivet
