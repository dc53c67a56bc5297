#pragma once

#include "source/span.h"

#include <deque>
#include <string>
#include <string_view>

namespace trivet {

struct SourceFile {
    FileId id;
    std::string name; // as shown to the user: a path, or "parts/supplies.toml" for embedded data
    std::string_view text;
    std::uint32_t first_line = 1; // line number of the first line of `text`, for a chunk cut out of a larger file
};

// All texts of one run; places point into it. Texts stay at their address while it lives.
class Sources {
public:
    SourceFile add(std::string name, std::string text);                                         // keeps the text
    SourceFile add_view(std::string name, std::string_view text, std::uint32_t first_line = 1); // text outlives this
    std::string_view name(FileId file) const { return files_[file.value].name; }
    std::string_view text(FileId file) const { return files_[file.value].text; }
    std::uint32_t first_line(FileId file) const { return files_[file.value].first_line; }

private:
    std::deque<SourceFile> files_;
    std::deque<std::string> owned_;
};

} // namespace trivet
