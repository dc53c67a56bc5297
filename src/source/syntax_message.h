#pragma once

#include "source/toml_scan.h"

#include <string_view>

namespace trivet {

// The error for what the scanner found in a statement.
InputError describe_scan_problem(const SourceFile& file, const Statement& statement, const DocumentLimits& limits);

// The error for what the TOML library refused at `offset` inside a statement: in our own words where the usual slips
// are recognised (a quantity or word without quotes, a decimal comma, a name used twice), else the library's.
InputError describe_refusal(const SourceFile& file, const Statement& statement, std::size_t offset,
                            std::string_view library_message, const DocumentLimits& limits);

} // namespace trivet
