#pragma once

#include <algorithm>
#include <string_view>

namespace trivet {

constexpr bool is_letter_or_digit(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

// Names of parts in a design, of elements and of wires: letters, digits, _ and -.
constexpr bool is_plain_name(std::string_view name) {
    return !name.empty() &&
           std::ranges::all_of(name, [](char c) { return is_letter_or_digit(c) || c == '_' || c == '-'; });
}

// Names of parts in the library may also hold . and + ("wire-1.0mm2-pvc-flex").
constexpr bool is_library_name(std::string_view name) {
    return !name.empty() && std::ranges::all_of(name, [](char c) {
        return is_letter_or_digit(c) || c == '_' || c == '-' || c == '.' || c == '+';
    });
}

// Names of terminals: anything visible except what the one-line form of a wire uses itself ("a.+ -> b.in : 25 cm").
constexpr bool is_terminal_name(std::string_view name) {
    return !name.empty() && std::ranges::all_of(name, [](char c) {
        return static_cast<unsigned char>(c) > ' ' && c != ':' && c != '>' && c != '"' && c != '\'' && c != 0x7f;
    });
}

} // namespace trivet
