#include "source/utf8.h"

#include <algorithm>
#include <cstring>

namespace trivet {
namespace {

unsigned char byte_at(std::string_view text, std::size_t offset) { return static_cast<unsigned char>(text[offset]); }

bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

std::size_t sequence_length(unsigned char lead) {
    if (lead < 0x80) return 1;
    if (lead >= 0xC2 && lead <= 0xDF) return 2;
    if (lead >= 0xE0 && lead <= 0xEF) return 3;
    if (lead >= 0xF0 && lead <= 0xF4) return 4;
    return 0;
}

// The second byte decides on overlong forms, surrogates and values beyond U+10FFFF.
bool is_valid_sequence(std::string_view text, std::size_t offset, std::size_t length) {
    if (length == 0 || offset + length > text.size()) return false;
    for (std::size_t i = 1; i < length; ++i) {
        if (!is_continuation(text[offset + i])) return false;
    }
    if (length < 3) return true;
    const unsigned char lead = byte_at(text, offset);
    const unsigned char second = byte_at(text, offset + 1);
    if (lead == 0xE0) return second >= 0xA0;
    if (lead == 0xED) return second <= 0x9F;
    if (lead == 0xF0) return second >= 0x90;
    if (lead == 0xF4) return second <= 0x8F;
    return true;
}

// Eight bytes at once: true when all are ASCII and none is NUL.
bool is_plain_block(const char* bytes) {
    std::uint64_t block = 0;
    std::memcpy(&block, bytes, sizeof block);
    constexpr std::uint64_t ones = 0x0101010101010101U;
    constexpr std::uint64_t tops = 0x8080808080808080U;
    return ((block | (block - ones)) & tops) == 0;
}

} // namespace

std::size_t code_points(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, [](char c) { return !is_continuation(c); }));
}

CodePoint code_point_at(std::string_view text, std::size_t offset) {
    const unsigned char lead = byte_at(text, offset);
    const std::size_t length = std::max<std::size_t>(sequence_length(lead), 1);
    if (length == 1) return {lead, 1};
    std::uint32_t value = lead & (0x7FU >> length);
    for (std::size_t i = 1; i < length && offset + i < text.size(); ++i) {
        value = (value << 6U) | (byte_at(text, offset + i) & 0x3FU);
    }
    return {value, length};
}

std::optional<std::size_t> first_non_text(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        if (at + 8 <= text.size() && is_plain_block(text.data() + at)) {
            at += 8;
            continue;
        }
        const std::size_t length = sequence_length(byte_at(text, at));
        if (text[at] == '\0' || !is_valid_sequence(text, at, length)) return at;
        at += length;
    }
    return std::nullopt;
}

std::size_t byte_order_mark(std::string_view text) { return text.starts_with("\xEF\xBB\xBF") ? 3 : 0; }

Place place_at(const SourceFile& file, std::size_t offset) {
    const std::string_view before = file.text.substr(0, offset);
    const std::size_t line_break = before.rfind('\n');
    const std::size_t line_start = line_break == std::string_view::npos ? 0 : line_break + 1;
    std::string_view line = before.substr(line_start);
    if (line_start == 0) line.remove_prefix(std::min(byte_order_mark(file.text), line.size()));
    const auto lines = static_cast<std::uint32_t>(std::ranges::count(before, '\n'));
    return {file.id, file.first_line + lines, static_cast<std::uint32_t>(code_points(line)) + 1};
}

std::size_t offset_of(std::string_view text, std::uint32_t line, std::uint32_t column) {
    std::size_t at = line <= 1 ? byte_order_mark(text) : 0;
    for (std::uint32_t i = 1; i < line; ++i) {
        const std::size_t line_break = text.find('\n', at);
        if (line_break == std::string_view::npos) return text.size();
        at = line_break + 1;
    }
    for (std::uint32_t i = 1; i < column && at < text.size() && text[at] != '\n'; ++i) {
        at += code_point_at(text, at).bytes;
    }
    return std::min(at, text.size());
}

std::string shown(std::string_view text, std::size_t limit) {
    std::string result;
    std::size_t at = 0;
    for (std::size_t count = 0; at < text.size() && count < limit; ++count) {
        const std::size_t length = std::min(code_point_at(text, at).bytes, text.size() - at);
        const bool control = byte_at(text, at) < 0x20 || byte_at(text, at) == 0x7F;
        result += control ? std::string_view(" ") : text.substr(at, length);
        at += length;
    }
    if (at < text.size()) result += "...";
    return result;
}

} // namespace trivet
