#pragma once

#include <compare>
#include <cstdint>

namespace trivet {

// Which text a place belongs to: an index into Sources.
struct FileId {
    std::uint32_t value = 0;
    auto operator<=>(const FileId&) const = default;
};

// Where a value stood. Lines and columns count from 1, columns in code points; line 0 means the file as a whole.
struct Place {
    FileId file;
    std::uint32_t line = 0;
    std::uint32_t column = 0;

    auto operator<=>(const Place&) const = default;
};

} // namespace trivet
