#include "source/document.h"

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

// Few large blocks instead of one allocation per text.
class TextStore {
public:
    std::string_view keep(std::string_view text) {
        if (text.empty()) return {};
        if (text.size() > free_) add_block(std::max(text.size(), block_bytes));
        std::ranges::copy(text, next_);
        const std::string_view kept(next_, text.size());
        next_ += text.size();
        free_ -= text.size();
        return kept;
    }

private:
    static constexpr std::size_t block_bytes = 64U << 10U;

    void add_block(std::size_t bytes) {
        blocks_.push_back(std::make_unique_for_overwrite<char[]>(bytes));
        next_ = blocks_.back().get();
        free_ = bytes;
    }

    std::vector<std::unique_ptr<char[]>> blocks_;
    char* next_ = nullptr;
    std::size_t free_ = 0;
};

// Copies the library's tree into the flat form, children in file order.
class Flattener {
public:
    Flattener(const SourceFile& file, TextStore& texts, Document& document, Errors& errors)
        : file_(file)
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
            if (index == 0 && entry.key->str() == TomlRepair::stand_in && dropping_) continue;
            previous = add(index, previous, *entry.value, entry.key);
        }
        entries_.resize(first_entry);
    }
    void drop_stand_ins() { dropping_ = true; }

private:
    struct Entry {
        const toml::key* key;
        const toml::node* value;
        std::uint64_t position;
    };

    static std::uint64_t position(toml::source_position at) { return (std::uint64_t{at.line} << 32U) | at.column; }
    Place place(toml::source_position at) const {
        if (at.line == 0) return {file_.id, 0, 0};
        return {file_.id, at.line + file_.first_line - 1, at.column};
    }

    std::uint32_t add(std::uint32_t parent, std::uint32_t previous, const toml::node& value, const toml::key* key) {
        const auto index = static_cast<std::uint32_t>(document_.nodes.size());
        Node& parent_node = document_.nodes[parent];
        ++parent_node.count;
        (previous == Node::none ? parent_node.first_child : document_.nodes[previous].next) = index;
        Node& node = document_.nodes.emplace_back();
        const toml::source_region& region = value.source();
        node.place = place(region.begin);
        node.key_place = key != nullptr ? place(key->source().begin) : node.place;
        if (key != nullptr) node.key = kept_key(key->str());
        node.one_line = region.begin.line == region.end.line;
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

    const SourceFile& file_;
    TextStore& texts_;
    Document& document_;
    Errors& errors_;
    std::vector<Entry> entries_; // of all open tables, innermost last
    std::array<std::string_view, 64> keys_;
    bool dropping_ = false;
};

void flatten(const SourceFile& file, const toml::table& table, const TomlRepair& repair, Document& document,
             Errors& errors) {
    const auto texts = std::make_shared<TextStore>();
    document.nodes.reserve(document.nodes.size() + repair.statements() + 8);
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
    Node& root = document.nodes.emplace_back();
    root.kind = NodeKind::table;
    root.place = root.key_place = {file.id, 0, 0};
    if (std::optional<InputError> error = unfit(file, limits)) {
        result.errors.push_back(std::move(*error));
        document.incomplete = true;
        return result;
    }
    TomlRepair repair(file, limits, result.errors);
    repair.scan();
    auto parsed = parse(repair.text());
    while (const auto* refusal = std::get_if<Refusal>(&parsed)) {
        repair.take_out(*refusal);
        parsed = parse(repair.text());
    }
    flatten(file, std::get<toml::table>(parsed), repair, document, result.errors);
    tidy(result.errors);
    return result;
}

} // namespace trivet
