#pragma once

#include "source/input_error.h"

#include <string_view>
#include <vector>

namespace trivet {

// A run of lines of a parts file that belongs to one part.
struct Chunk {
    std::string_view name;
    std::string_view text;
    std::uint32_t first_line = 1;
};

struct SplitText {
    std::vector<Chunk> chunks; // in file order
    Errors errors;             // places carry lines of `text` and the file given
};

// Cuts a parts file at the headers that open another part. Headers count only at line starts outside texts and lists,
// so one pass over the characters is enough; TOML itself is parsed later, part by part.
SplitText split_parts(std::string_view text, FileId file);

} // namespace trivet
