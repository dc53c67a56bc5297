#include "catalog/split.h"

#include "catalog/names.h"

#include <fmt/format.h>

namespace trivet {
namespace {

// What a line leaves open for the next one.
struct OpenState {
    char quote = 0; // of a multi-line text, 0 outside
    int depth = 0;  // of [ and {
};

bool triple(std::string_view text, std::size_t at, char quote) {
    return at + 2 < text.size() && text[at] == quote && text[at + 1] == quote && text[at + 2] == quote;
}

// Index just behind a text on one line that begins at `at`, or the line's end.
std::size_t behind_text(std::string_view line, std::size_t at) {
    const char quote = line[at];
    for (++at; at < line.size() && line[at] != quote; ++at) {
        if (quote == '"' && line[at] == '\\') ++at;
    }
    return at + 1;
}

// Index just behind the end of a multi-line text, or npos when it goes on.
std::size_t behind_multiline(std::string_view line, std::size_t at, char quote) {
    for (; at < line.size(); ++at) {
        if (quote == '"' && line[at] == '\\') {
            ++at;
        } else if (triple(line, at, quote)) {
            at += 3;
            for (int extra = 0; extra < 2 && at < line.size() && line[at] == quote; ++extra) ++at;
            return at;
        }
    }
    return std::string_view::npos;
}

void scan_line(std::string_view line, OpenState& open) {
    std::size_t at = 0;
    while (at < line.size()) {
        if (open.quote != 0) {
            at = behind_multiline(line, at, open.quote);
            if (at == std::string_view::npos) return;
            open.quote = 0;
            continue;
        }
        const char c = line[at];
        if (c == '#') return;
        if (c == '"' || c == '\'') {
            if (triple(line, at, c)) {
                open.quote = c;
                at += 3;
            } else {
                at = behind_text(line, at);
            }
            continue;
        }
        if (c == '[' || c == '{') ++open.depth;
        if ((c == ']' || c == '}') && open.depth > 0) --open.depth;
        ++at;
    }
}

struct Header {
    std::string_view name;   // first segment; empty when the line is not a header
    std::string_view second; // second segment, as far as it is a bare key
    bool alone = false;      // [name] without more segments
    bool list = false;       // [[...]]
};

std::string_view key_at(std::string_view line, std::size_t& at) {
    while (at < line.size() && line[at] == ' ') ++at;
    if (at < line.size() && (line[at] == '"' || line[at] == '\'')) {
        const std::size_t from = at + 1;
        at = behind_text(line, at);
        return at > line.size() ? std::string_view{} : line.substr(from, at - from - 1);
    }
    const std::size_t from = at;
    while (at < line.size() && (is_letter_or_digit(line[at]) || line[at] == '_' || line[at] == '-')) ++at;
    return line.substr(from, at - from);
}

Header header_of(std::string_view line) {
    Header header;
    header.list = line.starts_with("[[");
    std::size_t at = header.list ? 2 : 1;
    header.name = key_at(line, at);
    while (at < line.size() && line[at] == ' ') ++at;
    const char next = at < line.size() ? line[at] : ' ';
    if (next == '.') {
        header.second = key_at(line, ++at);
    } else if (next == ']') {
        header.alone = !header.list;
    } else {
        header.name = {};
    }
    return header;
}

// Inside a list no line can begin with [ and a bare name: the list was never closed, and the header counts.
bool bare_header(std::string_view line) {
    const std::size_t at = line.starts_with("[[") ? 2 : 1;
    return at < line.size() && is_letter_or_digit(line[at]) && (line[at] < '0' || line[at] > '9');
}

bool is_blank(std::string_view line) {
    const std::size_t at = line.find_first_not_of(" \t\r");
    return at == std::string_view::npos || line[at] == '#';
}

std::string_view without_byte_order_mark(std::string_view text) {
    return text.starts_with("\xEF\xBB\xBF") ? text.substr(3) : text;
}

class Splitter {
public:
    explicit Splitter(FileId file)
        : file_(file) {}

    void line(std::string_view line, std::uint32_t number, const char* start) {
        const bool header_possible =
            open_.quote == 0 && line.starts_with('[') && (open_.depth == 0 || bare_header(line));
        if (header_possible) {
            open_.depth = 0;
            header(line, number, start);
        } else if (result_.chunks.empty() && !reported_ && open_.quote == 0 && open_.depth == 0 && !is_blank(line)) {
            error(number, "this line stands before the first part",
                  "begin with the part's name in brackets, for example [supply-24v-5a]");
            reported_ = true;
        }
        scan_line(line, open_);
        if (header_possible) open_.depth = 0; // a header never goes on: a typo in it must not hide the next one
    }

    SplitText finish(const char* end) {
        close(end);
        std::erase_if(result_.chunks, [](const Chunk& chunk) { return chunk.name.empty(); });
        return std::move(result_);
    }

private:
    void header(std::string_view line, std::uint32_t number, const char* start) {
        const Header found = header_of(line);
        if (!is_library_name(found.name)) {
            return refuse(
                number, start, "this header does not name a part",
                "write the name in brackets, for example [supply-24v-5a]; it has letters, digits, _ - . and +");
        }
        const bool own = found.alone || found.second == "element" || found.second == "terminal";
        if (!own) {
            return refuse(
                number, start,
                fmt::format("'{}.{}' is neither a part nor its element or terminal", found.name, found.second),
                "a part's name with a dot stands in quotes, for example [\"wire-1.0mm2-pvc-flex\"]");
        }
        if (!found.alone && !result_.chunks.empty() && result_.chunks.back().name == found.name) return;
        close(start);
        result_.chunks.push_back({found.name, std::string_view(start, 0), number});
    }

    void close(const char* end) {
        if (result_.chunks.empty()) return;
        Chunk& chunk = result_.chunks.back();
        chunk.text = {chunk.text.data(), static_cast<std::size_t>(end - chunk.text.data())};
    }

    // What follows a refused header belongs to no part and is not read: a nameless chunk, dropped at the end.
    void refuse(std::uint32_t number, const char* start, std::string message, std::string hint) {
        close(start);
        result_.chunks.push_back({{}, std::string_view(start, 0), number});
        error(number, std::move(message), std::move(hint));
    }

    void error(std::uint32_t number, std::string message, std::string hint) {
        result_.errors.push_back({ErrorKind::syntax, {file_, number, 1}, std::move(message), std::move(hint)});
    }

    FileId file_;
    OpenState open_;
    SplitText result_;
    bool reported_ = false;
};

} // namespace

SplitText split_parts(std::string_view text, FileId file) {
    text = without_byte_order_mark(text);
    Splitter splitter(file);
    std::uint32_t number = 1;
    for (std::size_t at = 0; at < text.size(); ++number) {
        std::size_t end = text.find('\n', at);
        if (end == std::string_view::npos) end = text.size();
        splitter.line(text.substr(at, end - at), number, text.data() + at);
        at = end + 1;
    }
    return splitter.finish(text.data() + text.size());
}

} // namespace trivet
