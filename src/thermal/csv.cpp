#include "thermal/csv.h"

#include "source/utf8.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>

namespace trivet {

namespace {

bool is_blank(char c) { return c == ' ' || c == '\r'; }

} // namespace

CsvReader::CsvReader(const SourceFile& file)
    : file_(file)
    , position_(byte_order_mark(file.text)) {}

Place CsvReader::place(const Cell& cell) const {
    const std::size_t begin = std::max(cell.line_start, byte_order_mark(file_.text));
    const std::size_t before = code_points(file_.text.substr(begin, cell.offset - begin));
    return {file_.id, cell.line + file_.first_line - 1, static_cast<std::uint32_t>(before + 1)};
}

bool CsvReader::next(std::vector<Cell>& cells) {
    cells.clear();
    while (position_ < file_.text.size()) {
        const std::size_t begin = position_;
        const std::size_t end = std::min(file_.text.find('\n', begin), file_.text.size());
        position_ = std::min(end + 1, file_.text.size());
        ++line_;
        const std::string_view line = file_.text.substr(begin, end - begin);
        const std::size_t first = line.find_first_not_of(" \r");
        if (first == std::string_view::npos || line[first] == '#') continue;
        if (separator_ == '\0') choose_separator(line);
        split(line, begin, cells);
        return true;
    }
    return false;
}

void CsvReader::choose_separator(std::string_view line) {
    int kinds = 0;
    for (const char candidate : {',', ';', '\t'}) {
        if (line.find(candidate) == std::string_view::npos) continue;
        separator_ = candidate;
        ++kinds;
    }
    if (separator_ == '\0') separator_ = ',';
    mixed_ = kinds > 1;
}

void CsvReader::split(std::string_view line, std::size_t line_start, std::vector<Cell>& cells) const {
    std::size_t begin = 0;
    while (true) {
        while (begin < line.size() && is_blank(line[begin])) ++begin;
        std::size_t end = begin;
        if (begin < line.size() && line[begin] == '"') end = std::min(line.find('"', begin + 1), line.size());
        end = std::min(line.find(separator_, end), line.size());
        std::string_view text = line.substr(begin, end - begin);
        while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
        const std::size_t offset = line_start + begin;
        if (text.size() >= 2 && text.front() == '"' && text.back() == '"') text = text.substr(1, text.size() - 2);
        cells.push_back({text, line_start, offset, line_});
        if (end == line.size()) return;
        begin = end + 1;
    }
}

std::optional<double> number_in(std::string_view text, bool decimal_commas) {
    std::string plain(text);
    if (decimal_commas && plain.find('.') == std::string::npos) {
        const std::size_t comma = plain.find(',');
        if (comma != std::string::npos) plain[comma] = '.';
    }
    const char* begin = plain.data();
    const char* const end = begin + plain.size();
    if (begin != end && *begin == '+') ++begin;
    double value = 0.0;
    const auto [stopped, problem] = std::from_chars(begin, end, value);
    if (problem != std::errc{} || stopped != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

} // namespace trivet
