#pragma once

#include "source/document.h"
#include "units/parse.h"
#include "units/range.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// Reads one table: ask for a key with the type you need and get a value with its place, or an error already filed.
// `finish()` files an error for every key nobody asked for, with the nearest asked name as a hint.
// A value whose syntax error is already filed counts as present and gives nothing, without a second error.
// A reader is a cheap view; document and errors must outlive it.
class TableReader {
public:
    TableReader(const Document& document, const Node& table, Errors& errors);

    Place place() const;          // of the table's header
    std::string_view key() const; // the table's own key
    bool has(std::string_view key) const;
    std::optional<Place> place_of(std::string_view key) const;
    std::optional<NodeKind> kind_of(std::string_view key) const { // nothing when the key is absent; files no error
        const Node* node = find(key);
        return node ? std::optional(node->kind) : std::nullopt;
    }
    bool anything_left() const { // is there a key that nobody asked for yet?
        for (std::uint32_t i = table_->first_child; i != Node::none; i = document_->nodes[i].next) {
            if (!document_->nodes[i].asked) return true;
        }
        return false;
    }

    // Optional forms return nothing when the key is absent (no error) or wrong (error filed).
    // Required forms also file `missing_key` at the table's header.
    std::optional<Stated<std::string_view>> text(std::string_view key);
    std::optional<Stated<std::string_view>> required_text(std::string_view key);
    std::optional<Stated<AnyRange>> required_range(std::string_view key, Dimension dimension);
    std::optional<Stated<AnyQuantity>> required_quantity(std::string_view key, Dimension dimension);
    std::optional<Stated<double>> required_number(std::string_view key);
    std::optional<Stated<std::size_t>> required_word(std::string_view key, std::span<const std::string_view> words);
    std::optional<Stated<bool>> flag(std::string_view key);
    std::optional<Stated<double>> number(std::string_view key); // dimensionless count; integer or float, finite

    std::optional<Stated<AnyRange>> range(std::string_view key, Dimension dimension);
    std::optional<Stated<AnyQuantity>> quantity(std::string_view key, Dimension dimension);

    template <Dimension D> std::optional<Stated<Range<D>>> range(std::string_view key) {
        const auto stated = range(key, D);
        if (!stated) return std::nullopt;
        return Stated<Range<D>>{{{stated->value.lo}, {stated->value.hi}}, stated->place};
    }
    template <Dimension D> std::optional<Stated<Quantity<D>>> quantity(std::string_view key) {
        const auto stated = quantity(key, D);
        if (!stated) return std::nullopt;
        return Stated<Quantity<D>>{{stated->value.si}, stated->place};
    }

    // Index of the word in `words`; anything else files unknown_name with the nearest.
    std::optional<Stated<std::size_t>> word(std::string_view key, std::span<const std::string_view> words);

    std::vector<Stated<std::string_view>> texts(std::string_view key); // an array of texts; a single text is accepted

    std::optional<TableReader> table(std::string_view key); // [a.key] or inline
    std::vector<TableReader> tables(std::string_view key);  // [[a.key]] or an array of inline tables
    std::vector<TableReader> named_tables();                // every child that is a table, in file order

    // Children as they are, for tables whose keys are names (pins, terminal tables) or mixed values. Marks them asked.
    std::vector<const Node*> children() const;

    void error(ErrorKind kind, Place place, std::string message, std::string hint = {});
    Errors& errors() { return *errors_; }
    const Document& document() const { return *document_; }

    void finish();

private:
    const Node* find(std::string_view key) const; // marks it asked
    const Node* ask(std::string_view key);        // and remembers a key that is absent, for hints
    bool missing(std::string_view key, std::string hint);
    void wrong_type(const Node& node, std::string_view due, std::string hint);
    void wrong_quantity(const Node& node, const QuantityProblem& problem);
    bool is_quantity_text(const Node& node, Dimension dimension);
    Stated<std::string_view> stated(const Node& node) const { return {node.text, node.place}; }

    const Document* document_;
    const Node* table_;
    Errors* errors_;
    std::vector<std::string_view> absent_; // keys asked for in vain, as long as an unknown key may be left
};

} // namespace trivet
