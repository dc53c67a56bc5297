#pragma once

#include "units/dimension.h"

#include <span>
#include <string_view>

namespace trivet {

// What people call a dimension and how they write it. One table for messages, rule files and fact schemas.
struct KnownDimension {
    Dimension dimension;
    std::string_view name;    // "voltage"
    std::string_view phrase;  // "a voltage"
    std::string_view example; // "24 V"
    std::string_view units;   // "mV, V or kV"
};

std::span<const KnownDimension> known_dimensions();
const KnownDimension* find_dimension(Dimension dimension); // null for one that nobody named

} // namespace trivet
