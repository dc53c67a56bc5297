#pragma once

#include "source/document.h"

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace trivet {

// What stands in the way of handing a statement to the TOML library, or can be said more clearly than the library does.
enum class ScanProblem : std::uint8_t {
    none,
    symbol_outside_text, // a character outside ASCII outside quotes and comments
    dotted_too_deep,
    nested_too_deep,
    line_too_long,
    lone_return,       // a carriage return without line feed
    open_text,         // no closing quote
    open_header,       // [name without ]
    open_list,         // [ without ]
    open_inline_table, // { without } on the same line
    no_equals,         // neither a header nor key = value
};

// One header or one `key = value`, which may span lines. Offsets are bytes into the scanned text.
struct Statement {
    static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

    std::size_t begin = 0;
    std::size_t end = 0;          // of its text; a line break, the end, or what follows an open bracket stands there
    std::size_t equals = nowhere; // the '=' after the key
    bool header = false;
    ScanProblem problem = ScanProblem::none;
    std::size_t problem_at = 0;
};

// Splits a TOML text into statements in one pass without building anything. It understands comments, brackets and all
// four kinds of strings; where something is not closed it stops before what looks like the next statement.
class StatementScanner {
public:
    StatementScanner(std::string_view text, const DocumentLimits& limits);

    bool next(Statement& statement); // false at the end of the text

private:
    void begin_statement(Statement& statement);
    bool step(Statement& statement);       // false when the statement is complete
    bool line_break(Statement& statement); // false when it ends the statement
    void other(Statement& statement);
    void quoted(Statement& statement);
    void multi_line(Statement& statement, char quote);
    void check_line(Statement& statement);
    void report(Statement& statement, ScanProblem problem, std::size_t at) const;
    void finish(Statement& statement) const;

    char at(std::size_t offset) const { return offset < text_.size() ? text_[offset] : '\n'; }
    std::size_t line_end(std::size_t from) const;

    std::string_view text_;
    DocumentLimits limits_;
    std::size_t position_ = 0;
    std::size_t line_start_ = 0;
    std::size_t comment_ = 0;   // where the last comment began
    std::size_t depth_ = 0;     // open brackets
    std::size_t dots_ = 0;      // in the current key
    std::uint64_t braces_ = 0;  // one bit per open bracket, innermost lowest: 1 for {
    std::size_t outermost_ = 0; // offset of the outermost open bracket
};

// True when the line at `offset` can only be a header or a `key =`, not the continuation of a list.
bool starts_statement(std::string_view text, std::size_t offset);
bool starts_header(std::string_view text, std::size_t offset);

} // namespace trivet
