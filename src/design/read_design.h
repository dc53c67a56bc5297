#pragma once

#include "design/design.h"
#include "source/file.h"

namespace trivet {

struct DesignLimits {
    std::size_t parts = 200'000;
    std::size_t wires = 400'000;
    std::size_t name_length = 64;
};

// Reads a design with every reference resolved. All errors of the design and of the parts it uses are returned in one
// go; the value is present only when none of them prevents a check. Nothing is guessed: a missing ambient is an error,
// a missing length leaves the wire's length unstated.
Loaded<Design> read_design(const SourceFile& file, const Catalog& catalog, const DesignLimits& limits = {});

} // namespace trivet
