#pragma once

#include "assess/fault_table.h"
#include "thermal/heat_model.h"

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

enum class CurveFormat : unsigned char { text, csv, json };

struct ThermalArguments {
    std::string design;
    std::string situation = "normal";   // Situation::text
    std::optional<HeatExtreme> extreme; // empty: the one that shows more
    std::string stuck;                  // a part that never opens, may be empty
    bool no_cutoff = false;
    std::string span; // "2h", may be empty
    CurveFormat format{};
    std::string with; // a file of fitted numbers, may be empty
    Folders folders;
};

enum class FaultFormat : unsigned char { text, json, csv, markdown };

struct FaultsArguments {
    std::string design;
    bool pairs = false;           // two faults at once, one of them latent
    std::vector<FaultClass> only; // empty: all of them
    bool everything = false;      // a line for every fault
    FaultFormat format{};
    std::string with; // a file of fitted numbers, may be empty
    Folders folders;
};

using Arguments =
    std::variant<CheckArguments, ExplainArguments, FaultsArguments, FitArguments, PartsArguments, ThermalArguments>;

// The command line read, or the text to print and the exit status when there is nothing to run (help, version,
// mistake).
struct Parsed {
    std::optional<Arguments> arguments;
    std::string print;
    bool is_mistake = false;
};
Parsed parse_arguments(int count, const char* const* words);

} // namespace trivet
