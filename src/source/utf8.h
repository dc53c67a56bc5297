#pragma once

#include "source/file.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace trivet {

// Code points of a valid UTF-8 text: what columns count.
std::size_t code_points(std::string_view text);

// The code point that starts at `offset` of a valid UTF-8 text, and its length in bytes.
struct CodePoint {
    std::uint32_t value = 0;
    std::size_t bytes = 0;
};
CodePoint code_point_at(std::string_view text, std::size_t offset);

// Offset of the first NUL byte or invalid UTF-8 sequence (RFC 3629: no surrogates, no overlong forms), if any.
std::optional<std::size_t> first_non_text(std::string_view text);

// Bytes of the UTF-8 byte order mark at the start, 0 or 3.
std::size_t byte_order_mark(std::string_view text);

// Line and column of a byte offset, and back. A byte order mark takes no column.
Place place_at(const SourceFile& file, std::size_t offset);
std::size_t offset_of(std::string_view text, std::uint32_t line, std::uint32_t column);

// At most `limit` code points, control characters replaced, "..." when cut: safe to show in a message.
std::string shown(std::string_view text, std::size_t limit = 40);

} // namespace trivet
