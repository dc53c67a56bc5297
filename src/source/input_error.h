#pragma once

#include "source/span.h"

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// Every way an input can be refused. One row of text per kind below; docs/format.md lists them; tests/bad-input shows
// each at least once.
enum class ErrorKind : std::uint8_t {
    unreadable_file,     // missing, a folder, no permission, too large
    not_text,            // binary, not UTF-8
    syntax,              // not TOML
    too_deep,            // nesting or dotted keys beyond the limit
    too_large,           // more parts, wires, rows or characters than the limit
    unit_outside_text,   // 5 Ω without quotes
    unsupported_version, // trivet = 2
    missing_key,
    unknown_key,
    wrong_type,   // number where a quantity is due, text where a list is due
    bad_quantity, // unknown unit, wrong dimension, reversed or non-finite range
    out_of_range, // a negative length, an efficiency above 1
    unknown_name, // part, terminal, colour, table, fact, word of a closed set
    duplicate_name,
    wire_to_itself,
    ambiguous,      // an override that fits two elements
    bad_expression, // a rule that does not parse or whose types do not fit
};

inline constexpr std::array<std::string_view, 17> error_kind_texts{
    "the file cannot be read",
    "the file is not UTF-8 text",
    "the text is not valid TOML",
    "the nesting is too deep",
    "the input is larger than Trivet accepts",
    "a unit or symbol stands outside quotes",
    "the format version is not known",
    "a required key is missing",
    "a key is not known here",
    "a value has the wrong type",
    "a quantity cannot be read",
    "a value lies outside its possible range",
    "a name is not known",
    "a name is used twice",
    "a wire ends where it starts",
    "a value could mean two things",
    "an expression of a rule is wrong",
};
static_assert(error_kind_texts.size() == static_cast<std::size_t>(ErrorKind::bad_expression) + 1);

// One mistake in an input. `message` is a sentence without final stop that names the value and what was expected;
// `hint` is the way out ("did you mean 'supply'?"), may be empty.
struct InputError {
    ErrorKind kind{};
    Place place;
    std::string message;
    std::string hint;
};

using Errors = std::vector<InputError>;

// In file order, same place and message only once, at most `limit` per file (the last then says how many more).
void tidy(Errors& errors, std::size_t limit = 200);

} // namespace trivet
