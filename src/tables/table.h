#pragma once

#include "source/file.h"
#include "source/loaded.h"
#include "units/quantity.h"

#include <tl/expected.hpp>

#include <array>
#include <cstdint>
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
inline constexpr std::array<std::string_view, 4> match_names{"exact", "down", "up", "interpolate"};
static_assert(match_names.size() == static_cast<std::size_t>(Match::interpolate) + 1);

struct Column {
    std::string name;
    bool is_text = false;
    Dimension dimension; // of the values, unless is_text
    Match match = Match::exact;
};

using TableKey = std::variant<AnyQuantity, std::string>;
inline constexpr std::size_t most_key_columns = 4;

struct TableRow {
    std::vector<TableKey> keys;
    double value = 0.0; // SI
    std::string source; // of this row, when it differs from the table's
};

inline constexpr std::array<std::string_view, 4> confirmed_words{"read on a stored copy", "from memory", "computed",
                                                                 "common practice"};

// Published numbers: key columns, one value column. File: rules/tables/<name>.toml.
//   title = "..."   source = "..."   confirmed = one of confirmed_words
//   keys = [{ name = "area", dimension = "area", match = "down" },
//           { name = "insulation", dimension = "text" }]             # texts are always matched exactly
//   value = { name = "current", dimension = "current" }
//   rows = [["1.0 mm2", "pvc", "14 A"], ...]          # a last extra text in a row is that row's own source
// Numbers without dimension may stand without quotes.
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

// The value for these keys, one per key column in their order. Texts choose their rows first; then the numeric columns
// from the last to the first, each among the rows that are left. Every combination the answer needs must be in the
// table. Two numbers count as the same when they differ by less than 1e-9 of themselves. Takes no memory on success.
tl::expected<AnyQuantity, NotInTable> look_up(const PublishedTable& table, std::span<const TableKey> keys);

// All tables of a run by name.
struct Handbook {
    std::map<std::string, PublishedTable, std::less<>> tables;

    const PublishedTable* find(std::string_view name) const;
};

std::string to_text(const TableKey& key);

// Refused: unknown words and dimensions, rows of the wrong length, values that are no quantity of their column, two
// rows with the same keys.
Loaded<PublishedTable> read_table(const SourceFile& file); // name = file name without folder and ending

} // namespace trivet
