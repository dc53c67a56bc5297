#include "source/file.h"

#include <utility>

namespace trivet {

SourceFile Sources::add(std::string name, std::string text) {
    owned_.push_back(std::move(text));
    return add_view(std::move(name), owned_.back());
}

SourceFile Sources::add_view(std::string name, std::string_view text, std::uint32_t first_line) {
    const FileId id{static_cast<std::uint32_t>(files_.size())};
    files_.push_back({id, std::move(name), text, first_line});
    return files_.back();
}

} // namespace trivet
