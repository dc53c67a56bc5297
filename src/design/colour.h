#pragma once

#include <array>
#include <string>
#include <string_view>

namespace trivet {

struct ColourName {
    std::string_view letters;
    std::string_view name;
};

// IEC 60757 table 1, in its order.
inline constexpr std::array<ColourName, 14> colour_names{{
    {"BK", "black"},
    {"BN", "brown"},
    {"RD", "red"},
    {"OG", "orange"},
    {"YE", "yellow"},
    {"GN", "green"},
    {"BU", "blue"},
    {"VT", "violet"},
    {"GY", "grey"},
    {"WH", "white"},
    {"PK", "pink"},
    {"GD", "gold"},
    {"TQ", "turquoise"},
    {"SR", "silver"},
}};

// One colour of the table, or two in table order on one conductor ("RDBU"); green and yellow together are GNYE.
bool is_colour(std::string_view letters);

// A way out for letters that are no colour: the right order, the letters of a colour's name, the nearest, or the list.
std::string colour_hint(std::string_view text);

} // namespace trivet
