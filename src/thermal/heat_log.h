#pragma once

#include "source/file.h"
#include "source/loaded.h"
#include "thermal/fit.h"

#include <string>
#include <vector>

namespace trivet {

// A heater or a switch by whose name a column may say when sources were on.
struct LogSwitch {
    std::string name;
    std::vector<std::uint32_t> sources;
};

// What the columns of a log may be called.
struct LogNames {
    std::vector<std::string> bodies;  // [body]
    std::vector<std::string> sources; // [source]; a column of a switch below must cover it, unless empty: always on
    std::vector<LogSwitch> switches;
    bool needs_ambient = false; // the room's temperature is known no better than from the log
    std::size_t least_rows = 3;
};

inline constexpr std::size_t largest_log = 8U << 20U; // bytes

// Reads a log from CSV text: one header row, then one row per moment.
// - time_s, time_min or time_h: rising;
// - a body's name, with or without _C: °C, an empty cell where nothing was read;
// - ambient, with or without _C: an empty cell repeats the one before;
// - a heater's or switch's name, with or without _on: 0, 1 or a share between, until the next row;
// - ignore_ANYTHING.
// A time more than ten times the median interval after the one before it is refused unless everything was off on both
// sides: nobody knows what the heater did meanwhile. All errors come in one run.
Loaded<HeatLog> read_heat_log(const SourceFile& file, const LogNames& names);

} // namespace trivet
