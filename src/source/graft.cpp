#include "source/graft.h"

namespace trivet {

Graft::Open& Graft::open(std::uint32_t index) {
    const auto [found, is_new] = open_.try_emplace(index);
    Open& result = found->second;
    if (!is_new) return result;
    const bool is_table = node(index).kind == NodeKind::table;
    for (std::uint32_t i = node(index).first_child; i != Node::none; i = node(i).next) {
        if (is_table) result.children.emplace(node(i).key, i);
        result.last = i;
    }
    return result;
}

// A header's bracket stands before its key; a value and an inline table stand behind theirs; a table that only a dotted
// key made stands at its key. A table that was part of a longer header first has its key on that earlier line.
bool Graft::is_from_header(std::uint32_t index) {
    const Node& n = node(index);
    return n.key_place.line != n.place.line || n.key_place.column > n.place.column;
}

// A table that is only part of a longer header has the key of its first child on that same line.
bool Graft::is_explicit(std::uint32_t index) {
    const Node& n = node(index);
    return n.first_child == Node::none || node(n.first_child).key_place.line != n.place.line;
}

void Graft::append(std::uint32_t into, std::uint32_t child) {
    Open& target = open(into);
    (target.last == Node::none ? node(into).first_child : node(target.last).next) = child;
    node(child).next = Node::none;
    target.last = child;
    ++node(into).count;
    if (node(into).kind == NodeKind::table) target.children.emplace(node(child).key, child);
}

bool Graft::join_tables(std::uint32_t into, std::uint32_t from) {
    for (std::uint32_t child = node(from).first_child; child != Node::none;) {
        const std::uint32_t next = node(child).next;
        const Open& target = open(into);
        const auto known = target.children.find(node(child).key);
        if (known == target.children.end()) {
            append(into, child);
        } else if (!join_values(known->second, child)) {
            return false;
        }
        child = next;
    }
    return true;
}

bool Graft::join_values(std::uint32_t into, std::uint32_t from) {
    if (!is_from_header(into) || !is_from_header(from)) return false;
    const NodeKind old_kind = node(into).kind;
    const NodeKind new_kind = node(from).kind;
    if (old_kind == NodeKind::array && new_kind == NodeKind::array) {
        for (std::uint32_t entry = node(from).first_child; entry != Node::none;) {
            const std::uint32_t next = node(entry).next;
            append(into, entry);
            entry = next;
        }
        return true;
    }
    if (new_kind != NodeKind::table) return false;
    const bool defines = is_explicit(from);
    if (old_kind == NodeKind::array) return !defines && join_tables(open(into).last, from);
    if (old_kind != NodeKind::table || (defines && is_explicit(into))) return false;
    if (defines) node(into).place = node(from).place;
    return join_tables(into, from);
}

} // namespace trivet
