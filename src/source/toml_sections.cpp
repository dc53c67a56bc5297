#include "source/suggest.h"
#include "source/toml_reader.h"
#include "source/utf8.h"

#include <fmt/format.h>

namespace trivet {

std::optional<TableReader> TableReader::table(std::string_view key) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind == NodeKind::table) return TableReader(*document_, *node, *errors_);
    wrong_type(*node, "a section", fmt::format("write [{}] once, or {} = {{ ... }}", key, key));
    return std::nullopt;
}

std::vector<TableReader> TableReader::tables(std::string_view key) {
    std::vector<TableReader> result;
    const Node* node = ask(key);
    if (node == nullptr) return result;
    const std::string hint = fmt::format("write [[{}]] with two brackets, once for each", key);
    if (node->kind == NodeKind::table) { // one bracket too few: read it all the same, to find its other errors
        wrong_type(*node, "a list of sections", hint);
        result.push_back(TableReader(*document_, *node, *errors_));
    } else if (node->kind != NodeKind::array) {
        wrong_type(*node, "a list of sections", hint);
    } else {
        result.reserve(node->count);
        for (std::uint32_t i = node->first_child; i != Node::none; i = document_->nodes[i].next) {
            const Node& entry = document_->nodes[i];
            if (entry.kind == NodeKind::table) {
                result.push_back(TableReader(*document_, entry, *errors_));
            } else {
                wrong_type(entry, "a section", hint);
            }
        }
    }
    return result;
}

std::vector<TableReader> TableReader::named_tables() {
    std::vector<TableReader> result;
    result.reserve(table_->count);
    for (std::uint32_t i = table_->first_child; i != Node::none; i = document_->nodes[i].next) {
        const Node& child = document_->nodes[i];
        if (child.kind != NodeKind::table) continue;
        child.asked = true;
        result.push_back(TableReader(*document_, child, *errors_));
    }
    return result;
}

std::vector<const Node*> TableReader::children() const {
    std::vector<const Node*> result;
    result.reserve(table_->count);
    for (std::uint32_t i = table_->first_child; i != Node::none; i = document_->nodes[i].next) {
        const Node& child = document_->nodes[i];
        child.asked = true;
        result.push_back(&child);
    }
    return result;
}

void TableReader::finish() {
    if (!anything_left()) return;
    std::vector<std::string_view> known;
    for (std::uint32_t i = table_->first_child; i != Node::none; i = document_->nodes[i].next) {
        if (document_->nodes[i].asked) known.push_back(document_->nodes[i].key);
    }
    known.insert(known.end(), absent_.begin(), absent_.end());
    for (std::uint32_t i = table_->first_child; i != Node::none; i = document_->nodes[i].next) {
        const Node& child = document_->nodes[i];
        if (child.asked) continue;
        child.asked = true; // a second finish() does not repeat it
        error(ErrorKind::unknown_key, child.key_place, fmt::format("the key '{}' is not known here", shown(child.key)),
              did_you_mean(child.key, known));
    }
}

} // namespace trivet
