#pragma once

#include "source/file.h"
#include "source/loaded.h"

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

enum class NodeKind : std::uint8_t {
    text,
    number,
    integer,
    boolean,
    array,
    table,
    moment,     // date or time
    unreadable, // a syntax error stood here and is already filed: stay silent about this value
};

// One value of a TOML file. Children of a table or array are linked in file order.
struct Node {
    static constexpr std::uint32_t none = 0xffffffff;

    NodeKind kind{};
    mutable bool asked = false; // set when a reader looked at it; what nobody asked for is an unknown key
    bool one_line = true;       // a text that begins and ends on one line: offsets into it map to columns
    Place place;                // of the value; for a [table] its header
    Place key_place;            // of the key; the value's place in arrays
    std::string_view key;       // empty in arrays
    std::string_view text;      // for text
    double number = 0.0;        // for number and integer
    bool boolean = false;
    std::uint32_t first_child = none;
    std::uint32_t next = none;
    std::uint32_t count = 0; // children
};

// A parsed TOML file in a flat, file-ordered form: the only door between toml++ and the rest of the program.
struct Document {
    FileId file;
    std::vector<Node> nodes;       // nodes[0] is the root table
    std::shared_ptr<void> storage; // keeps the texts the nodes point at
    bool incomplete = false;       // a section was dropped: names that other parts of the file use may be missing

    const Node& root() const { return nodes.front(); }
};

struct DocumentLimits {
    std::size_t bytes = 32U << 20U;
    std::size_t dotted_depth = 16;
    std::size_t line_bytes = 64U << 10U;
    std::size_t syntax_errors = 20;       // after that many, the rest of the file is not tried
    std::size_t piece_bytes = 32U << 10U; // a larger file is parsed in pieces of about this size, for speed alone
};

// Parses TOML and reports *all* syntax errors: the offending line (or its whole section) is taken out and the rest is
// parsed again. `value` is present even with errors, holding what could be read, so that a loader can report its own
// errors of the same file in the same run. BOM and CRLF are accepted.
Loaded<Document> parse_document(const SourceFile& file, const DocumentLimits& limits = {});

} // namespace trivet
