#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace trivet::testing {

struct RunOutcome {
    int exit_status = -1; // 128 + signal when a signal ended the program, as a shell says it
    std::string output;
    std::string errors;
};

// Runs a program in `folder` with nothing on its standard input and waits for its end.
RunOutcome run_program(const std::filesystem::path& program, const std::vector<std::string>& arguments,
                       const std::filesystem::path& folder);

} // namespace trivet::testing
