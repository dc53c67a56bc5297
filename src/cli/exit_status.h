#pragma once

namespace trivet {

inline constexpr int exit_fit = 0;
inline constexpr int exit_not_fit = 1;
inline constexpr int exit_unreadable = 2;

} // namespace trivet
