#include "cli/terminal.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <sys/ioctl.h>
#include <unistd.h>
#include <utility>

namespace trivet {

namespace {

std::string_view environment(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? std::string_view{} : std::string_view{value};
}

std::string in_ascii(std::string_view text) {
    constexpr std::array<std::pair<std::string_view, std::string_view>, 12> signs{{{"Ω", "ohm"},
                                                                                   {"°", "deg"},
                                                                                   {"µ", "u"},
                                                                                   {"²", "2"},
                                                                                   {"³", "3"},
                                                                                   {"±", "+-"},
                                                                                   {"·", "*"},
                                                                                   {"≤", "<="},
                                                                                   {"≥", ">="},
                                                                                   {"→", "->"},
                                                                                   {"×", "x"},
                                                                                   {"√", "sqrt"}}};
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        if (static_cast<unsigned char>(text[at]) < 0x80U) {
            out += text[at++];
            continue;
        }
        std::size_t length = 1;
        while (at + length < text.size() && (static_cast<unsigned char>(text[at + length]) & 0xC0U) == 0x80U) ++length;
        std::string_view replacement = "?";
        for (const auto& [sign, plain] : signs)
            if (text.substr(at, length) == sign) replacement = plain;
        out += replacement;
        at += length;
    }
    return out;
}

bool write_all(std::FILE* stream, std::string_view text) {
    return std::fwrite(text.data(), 1, text.size(), stream) == text.size() && std::fflush(stream) == 0;
}

} // namespace

bool wants_colour() {
    return isatty(STDOUT_FILENO) == 1 && environment("NO_COLOR").empty() && environment("TERM") != "dumb";
}

bool errors_are_watched() { return isatty(STDERR_FILENO) == 1 && environment("TERM") != "dumb"; }

std::size_t terminal_width() {
    winsize size{};
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return 100;
    return std::clamp<std::size_t>(size.ws_col, 60, 120);
}

bool speaks_utf8() {
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
        const std::string_view value = environment(name);
        if (value.empty()) continue;
        return value.find("UTF-8") != std::string_view::npos || value.find("utf8") != std::string_view::npos;
    }
    return false;
}

bool print(std::string_view text) {
    return speaks_utf8() ? write_all(stdout, text) : write_all(stdout, in_ascii(text));
}

void print_error(std::string_view text) { write_all(stderr, speaks_utf8() ? std::string(text) : in_ascii(text)); }

} // namespace trivet
