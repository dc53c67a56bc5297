#pragma once

#include <string>
#include <string_view>

namespace trivet {

// A text as a cell of a CSV table: quoted where commas, quotes or line ends would end it (RFC 4180), also for programs
// that part cells at semicolons or tabs.
std::string csv_cell(std::string_view text);

} // namespace trivet
