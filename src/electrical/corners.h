#pragma once

#include "electrical/island.h"

namespace trivet {

// Combinations of tolerance ends that are to be solved in one state, without duplicates. A quantity only cares about
// the parameters that move it, so quantities whose wishes do not contradict each other share a corner.
class Corners {
public:
    void clear(std::size_t ranged);
    std::size_t count() const { return count_; }

    // The corner at which a quantity with these sensitivities is highest (or lowest): an old one that fits, or a new
    // one. Corners below `fixed` have been solved and are not changed any more.
    std::uint32_t find(const std::vector<double>& sensitivity, double value, bool highest, std::uint32_t fixed);

    // A corner with exactly these ends.
    std::uint32_t add(const std::vector<char>& high, const std::vector<float>& weight);

    bool high(std::uint32_t corner, std::size_t parameter) const {
        return (high_[corner * words_ + parameter / 64] >> (parameter % 64) & 1U) != 0;
    }
    float weight(std::uint32_t corner, std::size_t parameter) const { return weight_[corner * ranged_ + parameter]; }

private:
    bool fits(std::uint32_t corner, std::uint32_t fixed) const;

    std::size_t ranged_ = 0;
    std::size_t words_ = 0;
    std::size_t count_ = 0;
    std::vector<std::uint64_t> care_; // [corner][word]
    std::vector<std::uint64_t> high_;
    std::vector<float> weight_; // [corner][ranged parameter]
    std::vector<std::uint64_t> wish_care_;
    std::vector<std::uint64_t> wish_high_;
};

// The 16 combinations in which all sources, all heaters, all other loads and all conductors and switches move together:
// bit 0 sources high, bit 1 heater resistances high, bit 2 loads draw most, bit 3 conductor resistances high.
void add_grouped_corners(const Island& island, Corners& corners);

// All resistances low, all loads at their most, all sources at one end.
std::uint32_t add_heaviest_corner(const Island& island, bool sources_high, Corners& corners);

} // namespace trivet
