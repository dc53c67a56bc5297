#include "report/errors.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

namespace trivet {

namespace {

// Line `number` of a text whose first line has number `first`.
std::string_view line_of(std::string_view text, std::uint32_t first, std::uint32_t number) {
    std::size_t at = 0;
    for (std::uint32_t line = first; line < number && at < text.size(); ++line) {
        const std::size_t end = text.find('\n', at);
        if (end == std::string_view::npos) return {};
        at = end + 1;
    }
    std::string_view line = text.substr(at, text.find('\n', at) - at);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    return line;
}

bool printable(std::string_view line) {
    constexpr std::size_t longest = 160;
    return !line.empty() && line.size() <= longest &&
           std::ranges::none_of(line, [](char c) { return static_cast<unsigned char>(c) < 0x20 && c != '\t'; });
}

// Blanks up to a column counted in code points, tabs kept, so that the caret stands under its character.
std::string indent_to(std::string_view line, std::uint32_t column) {
    std::string indent;
    std::uint32_t seen = 1;
    for (const char c : line) {
        if (seen >= column) break;
        const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
        if (continues) continue;
        indent += c == '\t' ? '\t' : ' ';
        ++seen;
    }
    return indent;
}

} // namespace

std::string text_of_errors(const Errors& errors, const Sources& sources, bool colour) {
    std::string out;
    for (const InputError& error : errors) {
        const std::string_view red = colour ? "\x1b[1;31m" : "";
        const std::string_view plain = colour ? "\x1b[0m" : "";
        std::string place(sources.name(error.place.file));
        if (error.place.line > 0) place += fmt::format(":{}:{}", error.place.line, error.place.column);
        out += fmt::format("{}: {}error:{} {}.\n", place, red, plain, error.message);
        if (error.place.line > 0) {
            const auto line =
                line_of(sources.text(error.place.file), sources.first_line(error.place.file), error.place.line);
            if (printable(line)) out += fmt::format("    {}\n    {}^\n", line, indent_to(line, error.place.column));
        }
        if (!error.hint.empty()) out += fmt::format("    {}\n", error.hint);
    }
    return out;
}

} // namespace trivet
