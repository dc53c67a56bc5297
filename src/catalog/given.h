#pragma once

#include "source/loaded.h"
#include "units/range.h"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace trivet {

// How a number is known. What a verdict rests on that is only `typical` comes back as "confirm on your part's
// datasheet".
enum class Basis : std::uint8_t { standard, typical, datasheet, measured };
inline constexpr std::array<std::string_view, 4> basis_names{"standard", "typical", "datasheet", "measured"};
static_assert(basis_names.size() == static_cast<std::size_t>(Basis::measured) + 1);

// A stated number with its tolerance, its place (library or design) and how it is known.
template <Dimension D> struct Given {
    Range<D> range;
    Place place;
    Basis basis{};
};

template <Dimension D> using Perhaps = std::optional<Given<D>>; // empty: not stated, so rules answer "cannot tell"

struct GivenFlag {
    bool value = false;
    Place place;
    Basis basis{};
};
using PerhapsFlag = std::optional<GivenFlag>;

} // namespace trivet
