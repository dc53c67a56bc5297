#pragma once

namespace trivet {

// The whole program. Exit status: 0 fit to power up (or the question was answered), 1 not fit, 2 an input or the
// command line could not be read or an output not be written.
int run(int count, const char* const* words);

} // namespace trivet
