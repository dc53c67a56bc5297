#include "source/document.h"

#include "source/graft.h"
#include "source/text_store.h"
#include "source/toml_repair.h"
#include "source/utf8.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <variant>

namespace trivet {
namespace {

// The one place where the library's exceptions end.
std::variant<toml::table, Refusal> parse(std::string_view text) {
    try {
        return toml::parse(text);
    } catch (const toml::parse_error& error) {
        const toml::source_position at = error.source().begin;
        return Refusal{std::string(error.description()), at.line, at.column};
    }
}

// Copies the library's tree into the flat form, children in file order.
class Flattener {
public:
    Flattener(const SourceFile& file, TextStore& texts, Document& document, Errors& errors)
        : file_(file.id)
        , first_line_(file.first_line)
        , texts_(texts)
        , document_(document)
        , errors_(errors) {}

    void fill(std::uint32_t index, const toml::table& table) {
        const std::size_t first_entry = entries_.size();
        for (auto&& [key, value] : table) entries_.push_back({&key, &value, position(key.source().begin)});
        const auto by_position = [](const Entry& a, const Entry& b) { return a.position < b.position; };
        std::sort(entries_.begin() + static_cast<std::ptrdiff_t>(first_entry), entries_.end(), by_position);
        const std::size_t last_entry = entries_.size();
        std::uint32_t previous = Node::none;
        for (std::size_t i = first_entry; i < last_entry; ++i) {
            const Entry entry = entries_[i];
            if (dropping_ && index == 0 && entry.key->str() == TomlRepair::stand_in) continue;
            previous = add(index, previous, *entry.value, entry.key);
        }
        entries_.resize(first_entry);
    }
    void drop_stand_ins() { dropping_ = true; }
    void count_lines_from(std::uint32_t first_line) { first_line_ = first_line; }

private:
    struct Entry {
        const toml::key* key;
        const toml::node* value;
        std::uint64_t position;
    };

    static std::uint64_t position(toml::source_position at) { return (std::uint64_t{at.line} << 32U) | at.column; }
    Place place(toml::source_position at) const {
        if (at.line == 0) return {file_, 0, 0};
        return {file_, at.line + first_line_ - 1, at.column};
    }

    std::uint32_t add(std::uint32_t parent, std::uint32_t previous, const toml::node& value, const toml::key* key) {
        const auto index = static_cast<std::uint32_t>(document_.nodes.size());
        Node& parent_node = document_.nodes[parent];
        ++parent_node.count;
        (previous == Node::none ? parent_node.first_child : document_.nodes[previous].next) = index;
        Node& node = document_.nodes.emplace_back();
        node.place = place(value.source().begin);
        node.key_place = key != nullptr ? place(key->source().begin) : node.place;
        if (key != nullptr) node.key = kept_key(key->str());
        set_value(index, value);
        return index;
    }

    // Files repeat the same few keys: most are found in a small cache and need no copy.
    std::string_view kept_key(std::string_view key) {
        const std::size_t slot =
            (key.size() * 7 + static_cast<unsigned char>(key.empty() ? '\0' : key.front())) % keys_.size();
        if (keys_[slot] != key) keys_[slot] = texts_.keep(key);
        return keys_[slot];
    }

    void set_value(std::uint32_t index, const toml::node& value) {
        Node& node = document_.nodes[index];
        switch (value.type()) {
        case toml::node_type::string:
            node.kind = NodeKind::text;
            node.text = texts_.keep(value.ref<std::string>());
            node.one_line = value.source().begin.line == value.source().end.line;
            return;
        case toml::node_type::integer:
            node.kind = NodeKind::integer;
            node.number = static_cast<double>(value.ref<std::int64_t>());
            return;
        case toml::node_type::floating_point:
            node.kind = NodeKind::number;
            node.number = value.ref<double>();
            if (!std::isfinite(node.number)) refuse_number(node);
            return;
        case toml::node_type::boolean:
            node.kind = NodeKind::boolean;
            node.boolean = value.ref<bool>();
            return;
        case toml::node_type::table:
            node.kind = NodeKind::table;
            return fill(index, *value.as_table());
        case toml::node_type::array:
            node.kind = NodeKind::array;
            return fill_array(index, *value.as_array());
        default:
            node.kind = NodeKind::moment;
            return;
        }
    }

    void fill_array(std::uint32_t index, const toml::array& array) {
        std::uint32_t previous = Node::none;
        for (const toml::node& value : array) previous = add(index, previous, value, nullptr);
    }

    void refuse_number(const Node& node) {
        const std::string name = node.key.empty() ? std::string{} : fmt::format("'{}' ", shown(node.key));
        errors_.push_back({ErrorKind::out_of_range, node.place,
                           fmt::format("{}is {}, which is not a finite number", name, node.number),
                           "leave the key out when the value is not known"});
    }

    FileId file_;
    std::uint32_t first_line_;
    TextStore& texts_;
    Document& document_;
    Errors& errors_;
    std::vector<Entry> entries_; // of all open tables, innermost last
    std::array<std::string_view, 64> keys_;
    bool dropping_ = false;
};

void start(Document& document, FileId file) {
    document.nodes.clear();
    Node& root = document.nodes.emplace_back();
    root.kind = NodeKind::table;
    root.place = root.key_place = {file, 0, 0};
}

void flatten(const SourceFile& file, const toml::table& table, const TomlRepair& repair, Document& document,
             Errors& errors) {
    const auto texts = std::make_shared<TextStore>();
    document.nodes.reserve(repair.statements() + 8);
    Flattener flattener(file, *texts, document, errors);
    document.incomplete = repair.lost_names();
    if (document.incomplete) flattener.drop_stand_ins();
    flattener.fill(0, table);
    document.storage = texts;
    for (const Place bad : repair.bad_values()) {
        for (Node& node : document.nodes) {
            if (node.place == bad && node.kind == NodeKind::integer) node.kind = NodeKind::unreadable;
        }
    }
}

// A large file is parsed in pieces: the library's tree of a piece stays in the processor's cache and its memory is used
// again, which takes about half the time of one large tree. False, with everything as before, when that does not go
// smoothly: then the file is parsed as a whole, which also finds the right words for its errors.
bool read_in_pieces(const SourceFile& file, const TomlRepair& repair, Document& document, Errors& errors) {
    const auto texts = std::make_shared<TextStore>();
    // Most statements make one node, each piece two of its own; room for some lists spares a copy of everything.
    document.nodes.reserve(repair.statements() * 5 / 4 + 2 * repair.cuts().size() + 8);
    Flattener flattener(file, *texts, document, errors);
    Graft graft(document);
    std::uint32_t line = file.first_line;
    bool smooth = true;
    for (std::size_t i = 0; i <= repair.cuts().size() && smooth; ++i) {
        const std::size_t begin = i == 0 ? 0 : repair.cuts()[i - 1];
        const std::size_t end = i == repair.cuts().size() ? file.text.size() : repair.cuts()[i];
        const std::string_view piece = file.text.substr(begin, end - begin);
        const auto parsed = parse(piece);
        const auto* table = std::get_if<toml::table>(&parsed);
        smooth = table != nullptr;
        if (!smooth) break;
        const auto root = static_cast<std::uint32_t>(i == 0 ? 0 : document.nodes.size());
        if (i > 0) document.nodes.emplace_back().kind = NodeKind::table;
        flattener.count_lines_from(line);
        flattener.fill(root, *table);
        smooth = i == 0 || graft.join(root);
        line += static_cast<std::uint32_t>(std::ranges::count(piece, '\n'));
    }
    document.storage = texts;
    if (smooth) return true;
    errors.clear();
    start(document, file.id);
    return false;
}

std::optional<InputError> unfit(const SourceFile& file, const DocumentLimits& limits) {
    const Place whole{file.id, 0, 0};
    const std::string_view text = file.text;
    if (text.size() > limits.bytes) {
        return InputError{ErrorKind::too_large,
                          whole,
                          fmt::format("the file has {} bytes; Trivet accepts {}", text.size(), limits.bytes),
                          {}};
    }
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
        return InputError{ErrorKind::not_text, whole, "the file is UTF-16 text, not UTF-8",
                          "save it again with the encoding UTF-8"};
    }
    const std::optional<std::size_t> bad = first_non_text(text);
    if (!bad) return std::nullopt;
    if (text[*bad] == '\0') {
        return InputError{ErrorKind::not_text, place_at(file, *bad), "the file holds a NUL byte: it is not a text file",
                          "name a TOML text file"};
    }
    return InputError{ErrorKind::not_text, place_at(file, *bad),
                      fmt::format("the byte 0x{:02X} is not UTF-8 text", static_cast<unsigned char>(text[*bad])),
                      "save the file with the encoding UTF-8"};
}

} // namespace

Loaded<Document> parse_document(const SourceFile& file, const DocumentLimits& limits) {
    Loaded<Document> result;
    Document& document = result.value.emplace();
    document.file = file.id;
    start(document, file.id);
    if (std::optional<InputError> error = unfit(file, limits)) {
        result.errors.push_back(std::move(*error));
        document.incomplete = true;
        return result;
    }
    TomlRepair repair(file, limits, result.errors);
    repair.scan();
    const bool in_pieces = result.errors.empty() && !repair.cuts().empty();
    if (!in_pieces || !read_in_pieces(file, repair, document, result.errors)) {
        auto parsed = parse(repair.text());
        while (const auto* refusal = std::get_if<Refusal>(&parsed)) {
            repair.take_out(*refusal);
            parsed = parse(repair.text());
        }
        flatten(file, std::get<toml::table>(parsed), repair, document, result.errors);
    }
    tidy(result.errors);
    return result;
}

} // namespace trivet
