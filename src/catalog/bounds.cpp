#include "catalog/bounds.h"

#include "units/format.h"

#include <fmt/format.h>

#include <array>

namespace trivet {
namespace {

// Lets "1.0" pass as a fraction although "100 %" may round to a hair above it.
constexpr double rounding = 1e-9;

bool inside(AnyRange range, Bounds bounds) {
    if (bounds == Bounds::any || range.dimension.point) return true;
    if (bounds == Bounds::not_negative) return range.lo >= 0.0;
    if (bounds == Bounds::positive) return range.lo > 0.0;
    if (bounds == Bounds::fraction) return range.lo > 0.0 && range.hi <= 1.0 + rounding;
    return range.lo >= 1.0 - rounding;
}

constexpr std::array<std::string_view, 5> sentences{"", "it cannot be negative", "it must be more than zero",
                                                    "it must lie above 0 and at most at 1 (100 %)",
                                                    "it must be 1 or more"};

} // namespace

bool within(TableReader& reader, std::string_view key, const Stated<AnyRange>& stated, Bounds bounds) {
    if (inside(stated.value, bounds)) return true;
    reader.error(
        ErrorKind::out_of_range, stated.place,
        fmt::format("'{}' is {}, but {}", key, to_text(stated.value), sentences.at(static_cast<std::size_t>(bounds))),
        fmt::format("check the sign and the unit of '{}'", key));
    return false;
}

} // namespace trivet
