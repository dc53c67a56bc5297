#pragma once

#include <cstddef>
#include <string_view>

namespace trivet {

// Whether standard output is a terminal that wants colour (NO_COLOR, TERM=dumb honoured).
bool wants_colour();

// Whether standard error is a terminal, so that somebody may be waiting in front of it.
bool errors_are_watched();

// Columns of the terminal on standard output, 60 to 120; 100 where it is none.
std::size_t terminal_width();

// Whether the locale of the environment is UTF-8; otherwise signs like Ω are written in ASCII.
bool speaks_utf8();

// Writes all of it, in ASCII where the locale asks for that. False when the disk is full or the reader has gone.
bool print(std::string_view text);
void print_error(std::string_view text);

} // namespace trivet
