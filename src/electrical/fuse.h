#pragma once

#include "catalog/element.h"
#include "tables/table.h"

#include <optional>

namespace trivet {

// Operating current I2 = factor x rated current: from there on the fuse opens within its conventional time.
// Factors: rules/tables/fuse-conventional-factor.toml.
std::optional<Current> operating_current(const FuseElement& fuse, const Handbook& handbook);

// The longest time this fuse may take to open at a current, from its family's published gates; empty when the gates do
// not promise that it opens.
std::optional<Time> opens_within(const FuseElement& fuse, Current current, const Handbook& handbook);

// The largest I²t it can let through at any current from `lo` to `hi`: at each gate the longest time with the largest
// current that still belongs to it. Only currents at which it opens within 5 s count (the adiabatic limit of
// IEC 60364-4-43 cl. 434.5.2). Empty when it never opens that fast in this range.
std::optional<JouleIntegral> let_through(const FuseElement& fuse, Current lo, Current hi, const Handbook& handbook);

} // namespace trivet
