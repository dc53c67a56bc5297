#pragma once

#include "source/file.h"
#include "source/loaded.h"

#include <optional>
#include <string_view>
#include <vector>

namespace trivet {

// A cell of a table in text form, without the blanks and quotes around it.
struct Cell {
    std::string_view text;
    std::size_t line_start = 0; // offsets into the file's text
    std::size_t offset = 0;
    std::uint32_t line = 0;
};

// Reads rows of cells separated by commas, semicolons or tabs, whichever the first row has. Lines that are empty or
// begin with '#' are passed over; a byte order mark, CRLF and quoted cells are accepted. The text must be valid UTF-8.
class CsvReader {
public:
    explicit CsvReader(const SourceFile& file);

    bool next(std::vector<Cell>& cells); // false at the end of the text
    char separator() const { return separator_; }
    bool has_decimal_commas() const { return separator_ != ','; } // as well as decimal points
    Place place(const Cell& cell) const;

    // Separators of another kind in the first row.
    bool is_mixed() const { return mixed_; }

private:
    void choose_separator(std::string_view line);
    void split(std::string_view line, std::size_t line_start, std::vector<Cell>& cells) const;

    SourceFile file_;
    std::size_t position_ = 0;
    std::uint32_t line_ = 0;
    char separator_ = '\0';
    bool mixed_ = false;
};

// The number a cell states: decimal point, or comma where the separator leaves it free; finite, nothing after it.
std::optional<double> number_in(std::string_view text, bool decimal_commas);

} // namespace trivet
