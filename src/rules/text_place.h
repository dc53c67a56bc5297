#pragma once

#include "source/file.h"

#include <cstddef>

namespace trivet {

// Where byte `offset` of a TOML text value stands in its file; `value` is the place of the value (its opening quote).
// Follows the quotes, the escapes and the line breaks of all four ways TOML writes texts.
Place place_in_text(const SourceFile& file, Place value, std::size_t offset);

} // namespace trivet
