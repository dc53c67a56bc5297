#include "rules/text_layout.h"

#include "source/utf8.h"

#include <algorithm>

namespace trivet {
namespace {

std::vector<std::string> lines_of(std::string_view text, std::size_t width) {
    std::vector<std::string> lines(1);
    std::size_t at = 0;
    while ((at = text.find_first_not_of(" \t\r\n", at)) != std::string_view::npos) {
        const std::size_t end = std::min(text.find_first_of(" \t\r\n", at), text.size());
        const std::string_view word = text.substr(at, end - at);
        if (!lines.back().empty() && code_points(lines.back()) + 1 + code_points(word) > width) lines.emplace_back();
        if (!lines.back().empty()) lines.back() += ' ';
        lines.back() += word;
        at = end;
    }
    return lines;
}

std::string padded(std::string_view text, std::size_t width) {
    const std::size_t length = code_points(text);
    return std::string(text) + std::string(length < width ? width - length : 0, ' ');
}

} // namespace

std::string wrapped(std::string_view text, std::size_t indent) {
    std::string result;
    for (const std::string& line : lines_of(text, page_width - indent))
        result += std::string(indent, ' ') + line + '\n';
    return result;
}

std::string entry(std::string_view first, std::string_view text, std::size_t column, std::size_t indent) {
    const std::size_t text_column = indent + column + 2;
    std::string result = std::string(indent, ' ') + padded(first, column);
    bool on_first_line = code_points(first) <= column;
    if (!on_first_line) result += '\n';
    for (const std::string& line : lines_of(text, page_width - text_column)) {
        result += std::string(on_first_line ? 2 : text_column, ' ') + line + '\n';
        on_first_line = false;
    }
    return result;
}

std::string columns(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> widths;
    for (const auto& row : rows) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], code_points(row[i]));
    }
    std::string result;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) line += "  " + padded(row[i], widths[i]);
        line.erase(line.find_last_not_of(' ') + 1);
        result += line + '\n';
    }
    return result;
}

} // namespace trivet
