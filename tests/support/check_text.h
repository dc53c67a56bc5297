#pragma once

#include "assess/assess.h"
#include "cli/library.h"
#include "design/design.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet::testing {

// A design judged with the shipped library, as `trivet check` does it. Throws with the first error if it is not read.
struct Checked {
    Sources sources;
    Library library;
    Design design;
    Assessment assessment;
};
// `own_parts`: folders of parts that win over the library; those that do not exist are passed over.
void check_text(Checked& into, const std::string& name, std::string text, Detail detail = Detail::everything,
                const std::vector<std::string>& own_parts = {});
void check_file(Checked& into, const std::string& path, Detail detail = Detail::everything,
                const std::vector<std::string>& own_parts = {});

// The finding of a rule on a subject whose name starts with `subject`, or nullptr.
const Finding* find(const Checked& checked, std::string_view rule, std::string_view subject);

} // namespace trivet::testing
