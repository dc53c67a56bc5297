#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace trivet {
namespace {

constexpr std::size_t longest_name = 64; // longer names are not compared: a suggestion would not help
constexpr std::size_t most_edits = 3;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

using Row = std::array<std::uint8_t, longest_name + 1>;

// Optimal string alignment: insertions, deletions, substitutions and swaps of neighbours (Damerau 1964, Levenshtein
// 1966). Letter case is ignored.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    Row before{};
    Row above{};
    Row row{};
    for (std::size_t j = 0; j <= b.size(); ++j) above[j] = static_cast<std::uint8_t>(j);
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = static_cast<std::uint8_t>(i);
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = lower(a[i - 1]) == lower(b[j - 1]);
            int cost = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (same ? 0 : 1)});
            const bool swapped =
                i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
            if (swapped) cost = std::min(cost, before[j - 2] + 1);
            row[j] = static_cast<std::uint8_t>(cost);
        }
        before = above;
        above = row;
    }
    return above[b.size()];
}

} // namespace

std::string_view nearest(std::string_view name, std::span<const std::string_view> candidates) {
    std::string_view best;
    std::size_t best_distance = most_edits + 1;
    if (name.empty() || name.size() > longest_name) return best;
    for (const std::string_view candidate : candidates) {
        if (candidate.empty() || candidate.size() > longest_name) continue;
        const std::size_t longer = std::max(name.size(), candidate.size());
        if (longer - std::min(name.size(), candidate.size()) > most_edits) continue;
        const std::size_t distance = edit_distance(name, candidate);
        const bool near = distance == 0 || (distance <= most_edits && 2 * distance < name.size());
        if (near && distance < best_distance) {
            best = candidate;
            best_distance = distance;
        }
    }
    return best;
}

std::string did_you_mean(std::string_view name, std::span<const std::string_view> candidates) {
    if (const std::string_view near = nearest(name, candidates); !near.empty()) {
        return fmt::format("did you mean '{}'?", near);
    }
    constexpr std::size_t most_shown = 8;
    std::string list;
    for (const std::string_view candidate : candidates.first(std::min(candidates.size(), most_shown))) {
        list += list.empty() ? "known here: " : ", ";
        list += candidate;
    }
    if (candidates.size() > most_shown) list += ", ...";
    return list;
}

} // namespace trivet
