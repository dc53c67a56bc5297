#include "cli/run.h"

#include "cli/arguments.h"
#include "cli/commands.h"
#include "cli/exit_status.h"
#include "cli/terminal.h"

#include <csignal>
#include <exception>
#include <new>
#include <variant>

namespace trivet {

namespace {

struct RunCommand {
    CommandResult operator()(const CheckArguments& arguments) const { return check(arguments); }
    CommandResult operator()(const FaultsArguments& arguments) const { return faults(arguments); }
    CommandResult operator()(const FitArguments& arguments) const { return fit(arguments); }
    CommandResult operator()(const ExplainArguments& arguments) const { return explain(arguments); }
    CommandResult operator()(const PartsArguments& arguments) const { return parts(arguments); }
    CommandResult operator()(const ThermalArguments& arguments) const { return thermal(arguments); }
};

int run_guarded(int count, const char* const* words) {
    const Parsed parsed = parse_arguments(count, words);
    if (!parsed.arguments) {
        if (!parsed.is_mistake) return print(parsed.print) ? exit_fit : exit_unreadable;
        print_error(parsed.print);
        return exit_unreadable;
    }
    const CommandResult result = std::visit(RunCommand{}, *parsed.arguments);
    if (!result.errors.empty()) print_error(result.errors);
    if (!print(result.output)) {
        print_error("trivet: the output could not be written in full (disk full, or the reader has gone)\n");
        return exit_unreadable;
    }
    return result.status;
}

} // namespace

int run(int count, const char* const* words) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe is an error of writing, not a sudden end
    try {
        return run_guarded(count, words);
    } catch (const std::bad_alloc&) {
        print_error("trivet: there is not enough memory for this input\n");
    } catch (const std::exception& bug) {
        print_error("trivet: this is a fault of Trivet, not of your design: ");
        print_error(bug.what());
        print_error("\n");
    }
    return exit_unreadable;
}

} // namespace trivet
