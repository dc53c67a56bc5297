#include "source/key_path.h"

#include <algorithm>
#include <span>

namespace trivet {
namespace {

using Names = std::vector<std::string_view>;

bool starts_with(const Names& path, const Names& prefix) {
    return path.size() >= prefix.size() && std::ranges::equal(prefix, std::span(path).first(prefix.size()));
}

bool is_array_header(std::string_view text, const Statement& statement) {
    return statement.header && text.substr(statement.begin).starts_with("[[");
}

void append(Names& names, const std::vector<KeyPart>& parts) {
    for (const KeyPart& part : parts) names.push_back(part.name);
}

// The full path of each statement, remembering under which header it stands.
class PathWalk {
public:
    explicit PathWalk(std::string_view text)
        : text_(text) {}

    const Names& enter(const Statement& statement) {
        parts_ = key_path(text_, statement);
        path_ = statement.header ? Names{} : header_;
        append(path_, parts_);
        if (statement.header) header_ = path_;
        return path_;
    }
    const std::vector<KeyPart>& parts() const { return parts_; }

private:
    std::string_view text_;
    std::vector<KeyPart> parts_;
    Names header_;
    Names path_;
};

Names path_of(std::string_view text, const DocumentLimits& limits, const Statement& wanted) {
    StatementScanner scanner(text, limits);
    PathWalk walk(text);
    Statement statement;
    while (scanner.next(statement) && statement.begin < wanted.begin) walk.enter(statement);
    return walk.enter(wanted);
}

} // namespace

std::vector<KeyPart> key_path(std::string_view text, const Statement& statement) {
    std::vector<KeyPart> parts;
    std::size_t at = statement.begin;
    const std::size_t end = statement.header ? statement.end : std::min(statement.equals, statement.end);
    text = text.substr(0, end); // so that no search runs past the key
    while (at < end) {
        const char c = text[at];
        if (statement.header && c == ']') break;
        if (c == '"' || c == '\'') {
            const std::size_t closing = std::min(text.find(c, at + 1), end);
            parts.push_back({text.substr(at + 1, closing - at - 1), at});
            at = closing + 1;
        } else if (c == '.' || c == ' ' || c == '\t' || c == '[' || c == ']') {
            ++at;
        } else {
            const std::size_t stop = std::min(text.find_first_of(".] \t\"'", at), end);
            parts.push_back({text.substr(at, stop - at), at});
            at = stop;
        }
    }
    return parts;
}

std::optional<std::size_t> first_definition(std::string_view text, const DocumentLimits& limits,
                                            const Statement& second) {
    const Names wanted = path_of(text, limits, second);
    std::optional<std::size_t> exact;
    std::optional<std::size_t> related;
    StatementScanner scanner(text, limits);
    PathWalk walk(text);
    Statement statement;
    while (scanner.next(statement) && statement.begin < second.begin) {
        const Names& path = walk.enter(statement);
        if (walk.parts().empty()) continue;
        const bool is_same = path == wanted;
        if (is_array_header(text, statement) && !is_same && starts_with(wanted, path)) { // a new table begins
            exact.reset();
            related.reset();
        } else if (is_same && !exact) {
            exact = walk.parts().back().at;
        } else if (!related && (starts_with(path, wanted) || (!statement.header && starts_with(wanted, path)))) {
            related = walk.parts().back().at;
        }
    }
    return exact ? exact : related;
}

} // namespace trivet
