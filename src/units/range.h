#pragma once

#include "units/quantity.h"

#include <algorithm>

namespace trivet {

// A value with its tolerance: every number between the ends is possible. lo <= hi always holds.
template <Dimension D> struct Range {
    Quantity<D> lo;
    Quantity<D> hi;

    constexpr bool contains(Quantity<D> q) const { return lo <= q && q <= hi; }
    constexpr Quantity<D> middle() const { return {0.5 * (lo.si + hi.si)}; }
    constexpr bool is_point() const { return lo == hi; }

    friend constexpr bool operator==(const Range&, const Range&) = default;
};

template <Dimension D> constexpr Range<D> exactly(Quantity<D> q) { return {q, q}; }

template <Dimension D> constexpr Range<D> joined(Range<D> a, Range<D> b) {
    return {std::min(a.lo, b.lo), std::max(a.hi, b.hi)};
}

struct AnyRange {
    double lo = 0.0;
    double hi = 0.0;
    Dimension dimension;

    friend constexpr bool operator==(const AnyRange&, const AnyRange&) = default;
};

template <Dimension D> constexpr AnyRange any(Range<D> r) { return {r.lo.si, r.hi.si, D}; }

} // namespace trivet
