#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace trivet {

enum class Format : unsigned char { text, json };

// Folders of the user's own rules and parts, given with every command.
struct Folders {
    std::vector<std::string> rules;
    std::vector<std::string> parts;
};

struct CheckArguments {
    std::vector<std::string> designs;
    Format format{};
    bool everything = false;
    std::string with; // a file of fitted numbers, may be empty
    Folders folders;
};

struct FitArguments {
    std::string design;
    std::string log;
    std::string output; // empty: only print
    Folders folders;
};

struct ExplainArguments {
    std::string topic;  // a rule, "facts", "policy", "tables", a table's name, or empty: the list of rules
    std::string design; // optional: show the rule with this design's numbers
    Folders folders;
};

struct PartsArguments {
    std::vector<std::string> words; // of name, title or category; all must fit
    Folders folders;
};

using Arguments = std::variant<CheckArguments, ExplainArguments, FitArguments, PartsArguments>;

// The command line read, or the text to print and the exit status when there is nothing to run (help, version,
// mistake).
struct Parsed {
    std::optional<Arguments> arguments;
    std::string print;
    bool is_mistake = false;
};
Parsed parse_arguments(int count, const char* const* words);

} // namespace trivet
