#pragma once

#include "source/toml_reader.h"
#include "units/range.h"

#include <cstdint>
#include <string_view>

namespace trivet {

// What a stated number may physically be. Temperatures pass always: reading one refuses what lies below absolute zero.
enum class Bounds : std::uint8_t { any, not_negative, positive, fraction /* above 0, at most 1 */, at_least_one };

// Files out_of_range with a sentence when `stated` lies outside `bounds`; true if it lies inside.
bool within(TableReader& reader, std::string_view key, const Stated<AnyRange>& stated, Bounds bounds);

// A range read by key and held against its bounds; nothing when absent or already reported.
template <Dimension D>
std::optional<Stated<Range<D>>> bounded_range(TableReader& reader, std::string_view key,
                                              Bounds bounds = Bounds::not_negative) {
    const auto stated = reader.range(key, D);
    if (!stated || !within(reader, key, *stated, bounds)) return std::nullopt;
    return Stated<Range<D>>{{{stated->value.lo}, {stated->value.hi}}, stated->place};
}

} // namespace trivet
