#pragma once

#include "source/file.h"
#include "source/loaded.h"
#include "units/quantity.h"

#include <tl/expected.hpp>

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace trivet {

// How a key column is matched. Published tables are never extrapolated: outside them the answer is "not in the table".
enum class Match : std::uint8_t {
    exact,       // the row must have this key (texts always)
    down,        // the nearest row at or below the value: the safe side where a larger key means a larger answer
    up,          // the nearest row at or above the value: the safe side where a larger key means a smaller answer
    interpolate, // straight line between the two rows around the value, where the source allows it
};

struct Column {
    std::string name;
    bool is_text = false;
    Dimension dimension; // of the values, unless is_text
    Match match = Match::exact;
};

using TableKey = std::variant<AnyQuantity, std::string>;

struct TableRow {
    std::vector<TableKey> keys;
    double value = 0.0;  // SI
    std::string source;  // of this row, when it differs from the table's
};

// Published numbers: key columns, one value column. File: rules/tables/<name>.toml.
//   title = "..."   source = "..."   confirmed = "read on a stored copy" | "from memory" | "computed"
//   keys = [{ name = "area", dimension = "area", match = "down" }, { name = "insulation_class", dimension = "temperature", match = "down" }]
//   value = { name = "current", dimension = "current" }
//   rows = [["1.0 mm2", "70 °C", "14 A"], ...]        # a last extra text in a row is that row's own source
struct PublishedTable {
    std::string name;
    std::string title;
    std::string source;
    std::string confirmed;
    std::vector<Column> keys;
    Column value;
    std::vector<TableRow> rows;
    Place place;
};

struct NotInTable {
    std::string reason; // "no row for 0.30 mm² in 'conductor-current': it starts at 0.50 mm²"
};

// The value for these keys. Keys beyond the first numeric one are resolved first to exact rows (by their own match),
// then the next; every combination the answer needs must be in the table.
tl::expected<AnyQuantity, NotInTable> look_up(const PublishedTable& table, std::span<const TableKey> keys);

// All tables of a run by name.
struct Handbook {
    std::map<std::string, PublishedTable, std::less<>> tables;

    const PublishedTable* find(std::string_view name) const;
};

Loaded<PublishedTable> read_table(const SourceFile& file); // name = file name without folder and ending

} // namespace trivet
