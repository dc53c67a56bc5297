#include "source/suggest.h"
#include "source/toml_reader.h"
#include "tables/table.h"
#include "units/format.h"
#include "units/parse.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr std::size_t most_rows = 10000;

std::string name_of(std::string_view file) {
    file.remove_prefix(std::min(file.size(), file.find_last_of("/\\") + 1)); // npos + 1 is 0: no folder
    return std::string(file.substr(0, file.find_last_of('.')));
}

class TableLoader {
public:
    explicit TableLoader(const Document& document)
        : document_(document) {}

    Loaded<PublishedTable> load(std::string name) {
        TableReader root(document_, document_.root(), errors_);
        table_.name = std::move(name);
        table_.place = root.place();
        table_.title = text(root, "title");
        table_.source = text(root, "source");
        if (const auto word = root.required_word("confirmed", confirmed_words)) {
            table_.confirmed = confirmed_words[word->value];
        }
        read_keys(root);
        read_value(root);
        read_rows(root);
        root.finish();
        refuse_twins();
        if (!errors_.empty()) return {std::nullopt, std::move(errors_)};
        return {std::move(table_), {}};
    }

private:
    static std::string text(TableReader& reader, std::string_view key) {
        const auto stated = reader.required_text(key);
        return stated ? std::string(stated->value) : std::string{};
    }

    void error(ErrorKind kind, Place place, std::string message, std::string hint = {}) {
        errors_.push_back({kind, place, std::move(message), std::move(hint)});
    }

    void read_keys(TableReader& root) {
        if (!root.has("keys")) {
            columns_known_ = false;
            error(ErrorKind::missing_key, root.place(), "the table has no 'keys'",
                  "write keys = [{ name = \"area\", dimension = \"area\", match = \"down\" }]");
            return;
        }
        const std::size_t errors_before = errors_.size();
        const std::vector<TableReader> columns = root.tables("keys");
        const bool readable = errors_.size() == errors_before;
        columns_known_ = columns_known_ && readable;
        for (TableReader reader : columns) table_.keys.push_back(read_key(reader));
        if (readable && (columns.empty() || columns.size() > most_key_columns)) {
            error(ErrorKind::out_of_range, *root.place_of("keys"),
                  fmt::format("a table has 1 to {} key columns; this one has {}", most_key_columns, columns.size()));
            columns_known_ = false;
        }
    }

    Column read_key(TableReader& reader) {
        Column column;
        column.name = text(reader, "name");
        read_dimension(reader, column, true);
        if (column.is_text && reader.has("match")) {
            error(ErrorKind::unknown_key, *reader.place_of("match"), "a text is always matched exactly",
                  "leave 'match' out");
            reader.text("match");
        } else if (!column.is_text) {
            if (const auto word = reader.required_word("match", match_names)) {
                column.match = static_cast<Match>(word->value);
            }
        }
        reader.finish();
        return column;
    }

    void read_value(TableReader& root) {
        std::optional<TableReader> reader = root.table("value");
        if (!reader) {
            if (!root.has("value")) {
                error(ErrorKind::missing_key, root.place(), "the table has no 'value'",
                      "write value = { name = \"current\", dimension = \"current\" }");
            }
            columns_known_ = false;
            return;
        }
        table_.value.name = text(*reader, "name");
        read_dimension(*reader, table_.value, false);
        reader->finish();
    }

    void read_dimension(TableReader& reader, Column& column, bool text_allowed) {
        const auto stated = reader.required_text("dimension");
        if (!stated) {
            columns_known_ = false;
            return;
        }
        column.is_text = text_allowed && stated->value == "text";
        const DimensionLookup found = dimension_called(stated->value);
        column.dimension = found.dimension;
        if (!column.is_text && !found.found) {
            columns_known_ = false;
            error(ErrorKind::unknown_name, stated->place, fmt::format("'{}' is not a known dimension", stated->value),
                  "dimensions are called \"voltage\", \"current\", \"area\", \"temperature\", \"number\" and so on");
        }
    }

    void read_rows(TableReader& root) {
        const Node* rows = child(document_.root(), "rows");
        if (rows == nullptr) {
            error(ErrorKind::missing_key, root.place(), "the table has no 'rows'");
            return;
        }
        rows->asked = true;
        if (rows->kind == NodeKind::unreadable) return;
        if (rows->kind != NodeKind::array || rows->count == 0 || rows->count > most_rows) {
            error(ErrorKind::wrong_type, rows->place, fmt::format("'rows' is a list of 1 to {} rows", most_rows),
                  "write rows = [[\"1.0 mm2\", \"10 A\"], [\"1.5 mm2\", \"13 A\"]]");
            return;
        }
        // A row's values can only be read once every column is known.
        if (!columns_known_) return;
        for (std::uint32_t i = rows->first_child; i != Node::none; i = document_.nodes[i].next) {
            read_row(document_.nodes[i]);
        }
    }

    const Node* child(const Node& parent, std::string_view key) const {
        for (std::uint32_t i = parent.first_child; i != Node::none; i = document_.nodes[i].next) {
            if (document_.nodes[i].key == key) return &document_.nodes[i];
        }
        return nullptr;
    }

    void read_row(const Node& node) {
        if (node.kind == NodeKind::unreadable) return; // its syntax error is already filed
        const std::size_t values = table_.keys.size() + 1;
        if (node.kind != NodeKind::array || (node.count != values && node.count != values + 1)) {
            std::string columns;
            for (const Column& column : table_.keys) columns += column.name + ", ";
            error(ErrorKind::wrong_type, node.place,
                  fmt::format("a row of this table is a list of {} values: {}{}", values, columns, table_.value.name),
                  "one more text at the end states the source of the row");
            return;
        }
        TableRow row;
        std::size_t column = 0;
        bool good = true;
        for (std::uint32_t i = node.first_child; i != Node::none; i = document_.nodes[i].next, ++column) {
            const Node& cell = document_.nodes[i];
            if (column < table_.keys.size()) {
                const std::optional<TableKey> key = read_cell(cell, table_.keys[column]);
                good = key.has_value() && good;
                if (key) row.keys.push_back(*key);
            } else if (column == table_.keys.size()) {
                const std::optional<TableKey> value = read_cell(cell, table_.value);
                good = value.has_value() && good;
                if (value) row.value = std::get<AnyQuantity>(*value).si;
            } else {
                good = is_text(cell, "the source of a row") && good;
                row.source = std::string(cell.text);
            }
        }
        if (!good) return;
        table_.rows.push_back(std::move(row));
        row_places_.push_back(node.place);
    }

    bool is_text(const Node& cell, std::string_view what) {
        if (cell.kind == NodeKind::text && !cell.text.empty()) return true;
        if (cell.kind != NodeKind::unreadable) {
            error(ErrorKind::wrong_type, cell.place, fmt::format("{} is a text in quotes", what));
        }
        return false;
    }

    std::optional<TableKey> read_cell(const Node& cell, const Column& column) {
        if (column.is_text) {
            if (!is_text(cell, fmt::format("'{}'", column.name))) return std::nullopt;
            return TableKey{std::string(cell.text)};
        }
        const bool bare = cell.kind == NodeKind::number || cell.kind == NodeKind::integer;
        if (bare && column.dimension == dim::number && std::isfinite(cell.number)) {
            return TableKey{AnyQuantity{cell.number, dim::number}};
        }
        if (cell.kind == NodeKind::unreadable) return std::nullopt;
        if (cell.kind != NodeKind::text) {
            error(ErrorKind::wrong_type, cell.place,
                  fmt::format("'{}' is {} in quotes, such as \"{}\"", column.name, dimension_name(column.dimension),
                              dimension_example(column.dimension)));
            return std::nullopt;
        }
        const auto quantity = parse_quantity(cell.text, column.dimension);
        if (!quantity) {
            error(ErrorKind::bad_quantity, cell.place, quantity.error().message, quantity.error().hint);
            return std::nullopt;
        }
        return TableKey{*quantity};
    }

    // Two rows with the same keys would make the answer depend on their order in the file.
    void refuse_twins() {
        std::vector<std::size_t> order(table_.rows.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        const auto less = [this](std::size_t a, std::size_t b) {
            return std::ranges::lexicographical_compare(table_.rows[a].keys, table_.rows[b].keys, key_less);
        };
        std::ranges::stable_sort(order, less);
        for (std::size_t i = 1; i < order.size(); ++i) {
            if (less(order[i - 1], order[i])) continue;
            error(ErrorKind::duplicate_name, row_places_[order[i]],
                  fmt::format("this row has the same keys as the one in line {}", row_places_[order[i - 1]].line),
                  "leave one of them out");
        }
    }

    static bool key_less(const TableKey& a, const TableKey& b) {
        if (const std::string* text = std::get_if<std::string>(&a)) return *text < std::get<std::string>(b);
        const double x = std::get<AnyQuantity>(a).si;
        const double y = std::get<AnyQuantity>(b).si;
        return y - x > 1e-9 * std::max(std::abs(x), std::abs(y));
    }

    const Document& document_;
    Errors errors_;
    PublishedTable table_;
    std::vector<Place> row_places_;
    bool columns_known_ = true;
};

} // namespace

Loaded<PublishedTable> read_table(const SourceFile& file) {
    const Loaded<Document> document = parse_document(file);
    if (!document.value) return {std::nullopt, document.errors};
    Loaded<PublishedTable> table = TableLoader(*document.value).load(name_of(file.name));
    if (!document.errors.empty()) table.value.reset();
    table.errors.insert(table.errors.begin(), document.errors.begin(), document.errors.end());
    return table;
}

} // namespace trivet
