#pragma once

#include "assess/assess.h"

#include <array>
#include <string>
#include <string_view>

namespace trivet {

inline constexpr std::string_view caution =
    "A check on paper replaces neither the datasheet, nor local codes, nor a competent person's inspection.";

// How many findings of each consequence fail or cannot be told.
struct Tally {
    std::array<std::size_t, consequence_names.size()> failed{};
    std::array<std::size_t, consequence_names.size()> untold{};
    std::size_t passed = 0;
};
Tally tally(const Assessment& assessment);

std::string_view fitness_word(Fitness fitness); // "fit", "not fit", "refused"

// "3 hazards and 1 damage fail, 2 hazards cannot be told"; "nothing fails" when all pass.
std::string in_words(const Tally& tally);

// Indented and broken at words to a width; the first line starts with `label`, the others under it.
std::string wrapped(std::string_view label, std::string_view text, std::size_t indent, std::size_t width);

} // namespace trivet
