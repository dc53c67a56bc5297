#include "library/split_parts.h"

#include "source/toml_scan.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

struct Header {
    std::string_view first_key; // empty when it cannot be read
    bool part = false;          // [name] alone
};

Header read_header(std::string_view statement) {
    const bool list = statement.starts_with("[[");
    std::string_view rest = statement.substr(list ? 2 : 1);
    const auto skip_blanks = [&rest] { rest.remove_prefix(std::min(rest.find_first_not_of(" \t"), rest.size())); };
    skip_blanks();
    if (rest.empty()) return {};
    const bool quoted = rest.front() == '"' || rest.front() == '\'';
    const std::size_t key_end = quoted ? rest.find(rest.front(), 1) : rest.find_first_of(". \t]");
    if (key_end == std::string_view::npos) return {};
    Header header{.first_key = quoted ? rest.substr(1, key_end - 1) : rest.substr(0, key_end)};
    rest.remove_prefix(key_end + (quoted ? 1 : 0));
    skip_blanks();
    header.part = !list && rest.starts_with(']');
    return header;
}

// Counts lines only once, however often it is asked, as long as the offsets grow.
class LineCounter {
public:
    explicit LineCounter(std::string_view text)
        : text_(text) {}

    std::uint32_t line_at(std::size_t offset) {
        const auto newlines = std::ranges::count(text_.substr(counted_, offset - counted_), '\n');
        line_ += static_cast<std::uint32_t>(newlines);
        counted_ = offset;
        return line_;
    }

private:
    std::string_view text_;
    std::size_t counted_ = 0;
    std::uint32_t line_ = 1;
};

} // namespace

PartSplit split_parts(std::string_view text) {
    PartSplit split;
    LineCounter lines(text);
    StatementScanner scanner(text, DocumentLimits{});
    Statement statement;
    while (scanner.next(statement)) {
        if (!statement.header) {
            if (split.parts.empty() && split.strays.empty()) {
                split.strays.push_back(
                    {lines.line_at(statement.begin), "this line stands before the first part's [name]"});
            }
            continue;
        }
        const Header header = read_header(text.substr(statement.begin, statement.end - statement.begin));
        if (header.part) {
            if (!split.parts.empty()) split.parts.back().length = statement.begin - split.parts.back().offset;
            split.parts.push_back({header.first_key, lines.line_at(statement.begin), statement.begin, 0});
        } else if (split.parts.empty() || split.parts.back().name != header.first_key) {
            split.strays.push_back(
                {lines.line_at(statement.begin),
                 fmt::format("'{}' describes a piece of a part that does not stand right above it; a "
                             "name with a dot needs quotes in its header",
                             header.first_key)});
        }
    }
    if (!split.parts.empty()) split.parts.back().length = text.size() - split.parts.back().offset;
    return split;
}

} // namespace trivet
