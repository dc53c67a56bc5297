#pragma once

#include "source/file.h"
#include "source/input_error.h"

#include <string>

namespace trivet {

// `file:line:column: error: message` with the hint and the source line under it, one block per error.
std::string text_of_errors(const Errors& errors, const Sources& sources, bool colour);

} // namespace trivet
