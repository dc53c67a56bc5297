#include "report/curve_style.h"

#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace trivet {

std::string paint_of(std::size_t body, const CurveStyle& style) {
    constexpr std::array colours{36, 33, 35, 32, 34, 31};
    return style.colour ? fmt::format("\x1b[{}m", colours[body % colours.size()]) : std::string{};
}

std::string unpainted(const CurveStyle& style) { return style.colour ? "\x1b[0m" : ""; }

std::vector<char> curve_letters(const HeatCurve& curve) {
    constexpr std::string_view alphabet = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    std::vector<char> letters;
    const auto is_free = [&](char c) { return std::ranges::find(letters, c) == letters.end(); };
    for (const CurveBody& body : curve.bodies) {
        char letter = '*';
        for (const std::string_view from : {std::string_view(body.name), alphabet}) {
            const auto found = std::ranges::find_if(
                from, [&](char c) { return alphabet.find(c) != std::string_view::npos && is_free(c); });
            if (found == from.end()) continue;
            letter = *found;
            break;
        }
        letters.push_back(letter);
    }
    return letters;
}

std::string paragraph(std::string_view label, std::string_view text, std::size_t indent, std::size_t width) {
    constexpr char bond = '\x1f';
    std::string bound(text);
    for (std::size_t i = 1; i < bound.size(); ++i)
        if (bound[i] == ' ' && bound[i - 1] >= '0' && bound[i - 1] <= '9') bound[i] = bond;
    std::string out = wrapped(label, bound, indent, width - 1);
    std::ranges::replace(out, bond, ' ');
    return out;
}

} // namespace trivet
