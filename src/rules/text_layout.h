#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

inline constexpr std::size_t page_width = 78; // columns of `trivet explain`

// Breaks at spaces so that no line is wider than the page; every line starts with `indent` spaces. Ends with a newline.
std::string wrapped(std::string_view text, std::size_t indent = 0);

// "  first    text that may be long" with the text wrapped beside the first column of `column` characters.
std::string entry(std::string_view first, std::string_view text, std::size_t column, std::size_t indent = 2);

// Rows as columns of equal width, two spaces apart, each line indented by two.
std::string columns(const std::vector<std::vector<std::string>>& rows);

} // namespace trivet
