#include "rules/text_place.h"

#include "source/utf8.h"

#include <charconv>
#include <string_view>

namespace trivet {
namespace {

struct Piece {
    std::size_t raw = 0;     // bytes in the file
    std::size_t decoded = 0; // bytes in the value
};

std::size_t utf8_bytes(std::uint32_t code_point) {
    if (code_point < 0x80) return 1;
    if (code_point < 0x800) return 2;
    return code_point < 0x10000 ? 3 : 4;
}

// A backslash and what belongs to it: \n, \u00e9, or a line break with the white space after it.
Piece escape_at(std::string_view text, std::size_t at) {
    if (at + 1 >= text.size()) return {1, 1};
    const char kind = text[at + 1];
    if (kind == 'u' || kind == 'U') {
        const std::size_t digits = kind == 'u' ? 4 : 8;
        const std::string_view written = text.substr(at + 2, digits);
        std::uint32_t code_point = 0;
        std::from_chars(written.data(), written.data() + written.size(), code_point, 16);
        return {2 + written.size(), utf8_bytes(code_point)};
    }
    if (kind == ' ' || kind == '\t' || kind == '\r' || kind == '\n') {
        const std::size_t end = text.find_first_not_of(" \t\r\n", at + 1);
        return {(end == std::string_view::npos ? text.size() : end) - at, 0};
    }
    return {2, 1};
}

} // namespace

Place place_in_text(const SourceFile& file, Place value, std::size_t offset) {
    const std::string_view text = file.text;
    std::size_t at = offset_of(text, value.line - file.first_line + 1, value.column);
    if (at >= text.size() || (text[at] != '"' && text[at] != '\'')) return value;
    const char quote = text[at];
    const bool multi_line = text.substr(at, 3) == std::string_view(quote == '"' ? "\"\"\"" : "'''");
    at += multi_line ? 3 : 1;
    if (multi_line && text.substr(at).starts_with("\r\n"))
        at += 2;
    else if (multi_line && text.substr(at).starts_with('\n'))
        ++at;
    std::size_t decoded = 0;
    while (at < text.size()) {
        const Piece piece = quote == '"' && text[at] == '\\' ? escape_at(text, at) : Piece{1, 1};
        if (decoded >= offset && piece.decoded > 0) break; // a continued line stands for nothing
        at += piece.raw;
        decoded += piece.decoded;
    }
    return place_at(file, at);
}

} // namespace trivet
