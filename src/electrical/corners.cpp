#include "electrical/corners.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

constexpr double rounding =
    1e-13; // of the quantity or of its largest sensitivity: below that a parameter does not count

enum Group : std::size_t { sources, heaters, loads, conductors };

struct Membership {
    Group group;
    bool high_with_group; // the parameter's high end belongs to the group's high side
};

Membership membership(const IslandBranch& branch, std::uint32_t which) {
    switch (branch.kind) {
    case BranchKind::source:
        return {sources, which == 0};
    case BranchKind::heater:
        return {heaters, true};
    case BranchKind::load:
        return {loads, branch.behaviour != LoadBehaviour::resistance};
    case BranchKind::converter:
        return {loads, which != 1};
    case BranchKind::coil:
    case BranchKind::resistor:
    case BranchKind::thermistor:
        return {loads, false};
    default:
        return {conductors, true};
    }
}

std::uint32_t add_group_corner(const Island& island, const std::array<bool, 4>& group_high, Corners& corners) {
    constexpr std::array<float, 4> label_order{1.0F, 0.8F, 0.6F, 0.4F};
    std::vector<char> high(island.ranged.size());
    std::vector<float> weight(island.ranged.size());
    for (std::size_t i = 0; i < island.ranged.size(); ++i) {
        const IslandBranch& branch = island.branches[island.branch_of_parameter[island.ranged[i]]];
        const Membership member = membership(branch, island.ranged[i] - branch.first_parameter);
        high[i] = group_high[member.group] == member.high_with_group ? 1 : 0;
        weight[i] = label_order[member.group];
    }
    return corners.add(high, weight);
}

} // namespace

void Corners::clear(std::size_t ranged) {
    ranged_ = ranged;
    words_ = (ranged + 63) / 64;
    count_ = 0;
    care_.clear();
    high_.clear();
    weight_.clear();
}

bool Corners::fits(std::uint32_t corner, std::uint32_t fixed) const {
    for (std::size_t w = 0; w < words_; ++w) {
        const std::uint64_t differs = high_[corner * words_ + w] ^ wish_high_[w];
        const std::uint64_t both = corner < fixed ? wish_care_[w] : wish_care_[w] & care_[corner * words_ + w];
        if ((differs & both) != 0) return false;
    }
    return true;
}

std::uint32_t Corners::find(const std::vector<double>& sensitivity, double value, bool highest, std::uint32_t fixed) {
    double largest = 0.0;
    for (const double moved : sensitivity) largest = std::max(largest, std::abs(moved));
    const double threshold = rounding * std::max(largest, std::abs(value));
    if (largest <= threshold) return nowhere;
    wish_care_.assign(words_, 0);
    wish_high_.assign(words_, 0);
    for (std::size_t i = 0; i < ranged_; ++i) {
        if (std::abs(sensitivity[i]) <= threshold) continue;
        wish_care_[i / 64] |= std::uint64_t{1} << (i % 64);
        if ((sensitivity[i] > 0.0) == highest) wish_high_[i / 64] |= std::uint64_t{1} << (i % 64);
    }
    std::uint32_t found = 0;
    while (found < count_ && !fits(found, fixed)) ++found;
    const bool made = found == count_;
    if (made) {
        ++count_;
        care_.resize(count_ * words_, 0);
        high_.resize(count_ * words_, 0);
        weight_.resize(count_ * ranged_, 0.0F);
    }
    if (found < fixed) return found;
    for (std::size_t i = 0; i < ranged_; ++i) {
        // What only a later quantity cares about comes last in the label.
        float& weight = weight_[found * ranged_ + i];
        if (weight == 0.0F) weight = static_cast<float>(std::abs(sensitivity[i]) / largest * (made ? 1.0 : 1e-3));
    }
    for (std::size_t w = 0; w < words_; ++w) {
        care_[found * words_ + w] |= wish_care_[w];
        high_[found * words_ + w] |= wish_high_[w];
    }
    return found;
}

std::uint32_t Corners::add(const std::vector<char>& high, const std::vector<float>& weight) {
    care_.resize((count_ + 1) * words_, ~std::uint64_t{0});
    high_.resize((count_ + 1) * words_, 0);
    for (std::size_t i = 0; i < ranged_; ++i)
        if (high[i] != 0) high_[count_ * words_ + i / 64] |= std::uint64_t{1} << (i % 64);
    weight_.insert(weight_.end(), weight.begin(), weight.end());
    return static_cast<std::uint32_t>(count_++);
}

void add_grouped_corners(const Island& island, Corners& corners) {
    for (unsigned bits = 0; bits < 16; ++bits)
        add_group_corner(island, {(bits & 1U) != 0, (bits & 2U) != 0, (bits & 4U) != 0, (bits & 8U) != 0}, corners);
}

std::uint32_t add_heaviest_corner(const Island& island, bool sources_high, Corners& corners) {
    return add_group_corner(island, {sources_high, false, true, false}, corners);
}

} // namespace trivet
