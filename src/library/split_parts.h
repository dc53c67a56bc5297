#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// The lines of one part inside a file of parts: from its header [name] up to the next part's header or the end.
struct PartLines {
    std::string_view name;        // without quotes
    std::uint32_t first_line = 0; // counts from 1
    std::size_t offset = 0;       // bytes into the text
    std::size_t length = 0;
};

// A line that belongs to no part: something before the first header, or a sub-table of another part's name.
struct StrayLine {
    std::uint32_t line = 0;
    std::string message; // a sentence without final stop
};

struct PartSplit {
    std::vector<PartLines> parts; // in file order; names may repeat
    std::vector<StrayLine> strays;
};

// Finds the parts of a file without reading their values. [name."terminal"] and [[name.element]] belong to [name];
// what stands inside multi-line texts and lists is never taken for a header.
PartSplit split_parts(std::string_view text);

} // namespace trivet
