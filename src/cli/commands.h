#pragma once

#include "cli/arguments.h"

#include <string>

namespace trivet {

// What a command has to say and how it ends; only `run` writes it.
struct CommandResult {
    std::string output;
    std::string errors;
    int status = 0;
};

CommandResult check(const CheckArguments& arguments);
CommandResult faults(const FaultsArguments& arguments);
CommandResult fit(const FitArguments& arguments);
CommandResult explain(const ExplainArguments& arguments);
CommandResult parts(const PartsArguments& arguments);
CommandResult thermal(const ThermalArguments& arguments);

} // namespace trivet
