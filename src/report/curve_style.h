#pragma once

#include "thermal/heat_curve.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

struct CurveStyle {
    bool utf8 = true;
    bool colour = false;
    std::size_t width = 100; // 60 to 120 columns
};

// A letter for every curve: one of its body's name where free, else the next of the alphabet.
std::vector<char> curve_letters(const HeatCurve& curve);

// The escape sequence that begins a body's colour, or nothing.
std::string paint_of(std::size_t body, const CurveStyle& style);
std::string unpainted(const CurveStyle& style);

// wrapped(), but a number stays on one line with the unit after it.
std::string paragraph(std::string_view label, std::string_view text, std::size_t indent, std::size_t width);

} // namespace trivet
