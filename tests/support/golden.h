#pragma once

#include "support/run_program.h"

#include <filesystem>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

namespace trivet::testing {

// A folder tests/golden/<name>/ with two files: `cmd`, the arguments of the program, one per line; `expected.txt`, what
// came out. Golden files witness the shape of an output, never the truth of a number.
struct GoldenCase {
    std::string name;
    std::filesystem::path folder;
    std::vector<std::string> arguments;
};
inline void PrintTo(const GoldenCase& golden, std::ostream* out) {
    *out << golden.name;
} // GoogleTest asks for this name

std::vector<GoldenCase> golden_cases(const std::filesystem::path& folder); // by name

// Texts that differ from machine to machine or release to release, and the word that stands for them.
struct Replacement {
    std::string text;
    std::string word;
};

// "exit: 0", then the output, then what came out of the error stream below a line "--- stderr".
std::string golden_text(const RunOutcome& outcome, const std::vector<Replacement>& replacements);

enum class Blessing { asked, not_asked, refused };
Blessing blessing(const char* asked, const char* continuous_integration);

// One line that says where two texts first differ.
std::string first_difference(std::string_view expected, std::string_view actual);

} // namespace trivet::testing
