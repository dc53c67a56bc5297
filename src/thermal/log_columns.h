#pragma once

#include "thermal/csv.h"
#include "thermal/heat_log.h"

namespace trivet {

// What a column of a log holds.
struct LogColumn {
    enum class Kind : std::uint8_t { ignored, time, body, ambient, on } kind{};
    std::uint32_t index = 0; // body or LogNames::switches
    double unit = 1.0;       // seconds of a time column
    std::string name;        // as the header has it
};

// Says what every column of the header is, and files what is unknown, twice there or missing.
std::vector<LogColumn> read_header(const CsvReader& reader, const std::vector<Cell>& header, const LogNames& names,
                                   Errors& errors);

} // namespace trivet
