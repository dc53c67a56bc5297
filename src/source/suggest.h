#pragma once

#include <span>
#include <string>
#include <string_view>

namespace trivet {

// The candidate nearest to `name` by edit distance (at most 3, and less than half the name), or empty.
std::string_view nearest(std::string_view name, std::span<const std::string_view> candidates);

// "did you mean 'x'?" or, without a near candidate, "known here: a, b, c" (at most 8, then "..."); empty if none.
std::string did_you_mean(std::string_view name, std::span<const std::string_view> candidates);

} // namespace trivet
