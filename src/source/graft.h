#pragma once

#include "source/document.h"

#include <string_view>
#include <unordered_map>

namespace trivet {

// Joins trees of consecutive pieces of one TOML file, each piece beginning at a header, to the tree of the whole: a
// header continues the last table of a list and completes a table that only existed as part of a longer header (TOML
// v1.0.0, "Table" and "Array of Tables").
class Graft {
public:
    explicit Graft(Document& document)
        : document_(document) {}

    // Moves the children of `piece` below the root. False when that would define something twice or needs a closer
    // look; the tree is then half done and must be thrown away.
    bool join(std::uint32_t piece) { return join_tables(0, piece); }

private:
    struct Open {
        std::unordered_map<std::string_view, std::uint32_t> children; // of a table
        std::uint32_t last = Node::none;
    };

    Node& node(std::uint32_t index) { return document_.nodes[index]; }
    Open& open(std::uint32_t index);
    bool join_tables(std::uint32_t into, std::uint32_t from);
    bool join_values(std::uint32_t into, std::uint32_t from);
    void append(std::uint32_t into, std::uint32_t child);
    bool is_from_header(std::uint32_t index);
    bool is_explicit(std::uint32_t index);

    Document& document_;
    std::unordered_map<std::uint32_t, Open> open_; // what pieces were joined to so far
};

} // namespace trivet
