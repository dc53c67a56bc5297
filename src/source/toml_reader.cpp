#include "source/toml_reader.h"

#include "source/suggest.h"
#include "source/utf8.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {
namespace {

std::string described(const Node& node) {
    switch (node.kind) {
    case NodeKind::text:
        return fmt::format("the text \"{}\"", shown(node.text));
    case NodeKind::number:
    case NodeKind::integer:
        return fmt::format("the number {}", node.number);
    case NodeKind::boolean:
        return node.boolean ? "true" : "false";
    case NodeKind::array:
        return "a list";
    case NodeKind::table:
        return "a section";
    case NodeKind::moment:
        return "a date or time";
    case NodeKind::unreadable:
        break;
    }
    return "unreadable";
}

std::string name_of(const Node& node) {
    return node.key.empty() ? std::string("this list entry") : fmt::format("'{}'", shown(node.key));
}

bool is_number(const Node& node) { return node.kind == NodeKind::number || node.kind == NodeKind::integer; }

} // namespace

TableReader::TableReader(const Document& document, const Node& table, Errors& errors)
    : document_(&document)
    , table_(&table)
    , errors_(&errors) {}

Place TableReader::place() const { return table_->place; }

std::string_view TableReader::key() const { return table_->key; }

const Node* TableReader::find(std::string_view key) const {
    for (std::uint32_t i = table_->first_child; i != Node::none;) {
        const Node& node = document_->nodes[i];
        if (node.key == key) {
            node.asked = true;
            return &node;
        }
        i = node.next;
    }
    return nullptr;
}

const Node* TableReader::ask(std::string_view key) {
    const Node* node = find(key);
    if (node == nullptr && (!absent_.empty() || anything_left())) {
        if (absent_.empty()) absent_.reserve(8);
        absent_.push_back(key);
    }
    return node;
}

bool TableReader::has(std::string_view key) const { return find(key) != nullptr; }

std::optional<Place> TableReader::place_of(std::string_view key) const {
    const Node* node = find(key);
    return node != nullptr ? std::optional(node->place) : std::nullopt;
}

void TableReader::error(ErrorKind kind, Place place, std::string message, std::string hint) {
    errors_->push_back({kind, place, std::move(message), std::move(hint)});
}

bool TableReader::missing(std::string_view key, std::string hint) {
    if (has(key)) return false;
    ask(key);
    error(ErrorKind::missing_key, place(), fmt::format("the key '{}' is missing here", key), std::move(hint));
    return true;
}

void TableReader::wrong_type(const Node& node, std::string_view due, std::string hint) {
    if (node.kind == NodeKind::unreadable) return;
    if (node.kind == NodeKind::number && !std::isfinite(node.number)) return; // filed when the file was parsed
    error(ErrorKind::wrong_type, node.place,
          fmt::format("{} is {}, but {} is due", name_of(node), described(node), due), std::move(hint));
}

std::optional<Stated<std::string_view>> TableReader::text(std::string_view key) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind == NodeKind::text) return stated(*node);
    const std::string example = is_number(*node) ? fmt::format("write {} = \"{}\"", key, node->number) : std::string{};
    wrong_type(*node, "a text in quotes", example);
    return std::nullopt;
}

std::optional<Stated<std::string_view>> TableReader::required_text(std::string_view key) {
    if (missing(key, fmt::format("add {} = \"...\"", key))) return std::nullopt;
    return text(key);
}

std::optional<Stated<bool>> TableReader::flag(std::string_view key) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind == NodeKind::boolean) return Stated<bool>{node->boolean, node->place};
    wrong_type(*node, "true or false", fmt::format("write {} = true, without quotes", key));
    return std::nullopt;
}

std::optional<Stated<double>> TableReader::number(std::string_view key) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (is_number(*node) && std::isfinite(node->number)) return Stated<double>{node->number, node->place};
    wrong_type(*node, "a number", fmt::format("write {} = 3, without quotes and unit", key));
    return std::nullopt;
}

std::optional<Stated<double>> TableReader::required_number(std::string_view key) {
    if (missing(key, fmt::format("add {} = 3", key))) return std::nullopt;
    return number(key);
}

bool TableReader::is_quantity_text(const Node& node, Dimension dimension) {
    if (node.kind == NodeKind::text) return true;
    wrong_type(node, fmt::format("{} with its unit", dimension_name(dimension)),
               fmt::format("write \"{}\", in quotes", dimension_example(dimension)));
    return false;
}

void TableReader::wrong_quantity(const Node& node, const QuantityProblem& problem) {
    Place place = node.place;
    if (node.one_line) {
        const std::size_t offset = std::min(problem.offset, node.text.size());
        place.column += 1 + static_cast<std::uint32_t>(code_points(node.text.substr(0, offset)));
    }
    error(ErrorKind::bad_quantity, place, fmt::format("{}: {}", name_of(node), problem.message), problem.hint);
}

std::optional<Stated<AnyRange>> TableReader::range(std::string_view key, Dimension dimension) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (dimension == dim::number && is_number(*node) && std::isfinite(node->number)) {
        return Stated<AnyRange>{{node->number, node->number, dimension}, node->place};
    }
    if (!is_quantity_text(*node, dimension)) return std::nullopt;
    const auto parsed = parse_range(node->text, dimension);
    if (parsed) return Stated<AnyRange>{*parsed, node->place};
    wrong_quantity(*node, parsed.error());
    return std::nullopt;
}

std::optional<Stated<AnyQuantity>> TableReader::quantity(std::string_view key, Dimension dimension) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (dimension == dim::number && is_number(*node) && std::isfinite(node->number)) {
        return Stated<AnyQuantity>{{node->number, dimension}, node->place};
    }
    if (!is_quantity_text(*node, dimension)) return std::nullopt;
    const auto parsed = parse_quantity(node->text, dimension);
    if (parsed) return Stated<AnyQuantity>{*parsed, node->place};
    wrong_quantity(*node, parsed.error());
    return std::nullopt;
}

std::optional<Stated<AnyRange>> TableReader::required_range(std::string_view key, Dimension dimension) {
    if (missing(key, fmt::format("add {} = \"{}\"", key, dimension_example(dimension)))) return std::nullopt;
    return range(key, dimension);
}

std::optional<Stated<AnyQuantity>> TableReader::required_quantity(std::string_view key, Dimension dimension) {
    if (missing(key, fmt::format("add {} = \"{}\"", key, dimension_example(dimension)))) return std::nullopt;
    return quantity(key, dimension);
}

std::optional<Stated<std::size_t>> TableReader::word(std::string_view key, std::span<const std::string_view> words) {
    const Node* node = ask(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind != NodeKind::text) {
        const std::string example =
            words.empty() ? std::string{} : fmt::format("write {} = \"{}\"", key, words.front());
        wrong_type(*node, "a word in quotes", example);
        return std::nullopt;
    }
    const auto found = std::ranges::find(words, node->text);
    if (found != words.end()) return Stated<std::size_t>{static_cast<std::size_t>(found - words.begin()), node->place};
    error(ErrorKind::unknown_name, node->place,
          fmt::format("\"{}\" is not a word that '{}' can have", shown(node->text), key),
          did_you_mean(node->text, words));
    return std::nullopt;
}

std::optional<Stated<std::size_t>> TableReader::required_word(std::string_view key,
                                                              std::span<const std::string_view> words) {
    const std::string_view example = words.empty() ? std::string_view("...") : words.front();
    if (missing(key, fmt::format("add {} = \"{}\"", key, example))) return std::nullopt;
    return word(key, words);
}

std::vector<Stated<std::string_view>> TableReader::texts(std::string_view key) {
    std::vector<Stated<std::string_view>> result;
    const Node* node = ask(key);
    if (node == nullptr) return result;
    if (node->kind == NodeKind::text) {
        result.push_back(stated(*node));
    } else if (node->kind != NodeKind::array) {
        wrong_type(*node, "a list of texts", fmt::format("write {} = [\"...\", \"...\"]", key));
    } else {
        result.reserve(node->count);
        for (std::uint32_t i = node->first_child; i != Node::none; i = document_->nodes[i].next) {
            const Node& entry = document_->nodes[i];
            if (entry.kind == NodeKind::text) {
                result.push_back(stated(entry));
            } else {
                wrong_type(entry, "a text in quotes", {});
            }
        }
    }
    return result;
}

} // namespace trivet
