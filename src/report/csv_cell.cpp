#include "report/csv_cell.h"

namespace trivet {

std::string csv_cell(std::string_view text) {
    if (text.find_first_of(",;\"\t\r\n") == std::string_view::npos) return std::string(text);
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    return quoted + "\"";
}

} // namespace trivet
