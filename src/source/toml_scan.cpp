#include "source/toml_scan.h"

#include "source/utf8.h"

#include <algorithm>
#include <array>

namespace trivet {
namespace {

constexpr std::size_t most_nested = 32;

constexpr bool is_bare_key(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

// Characters that change nothing for the scanner, outside strings and inside them.
constexpr std::array<bool, 256> make_plain(std::string_view special, bool beyond_ascii) {
    std::array<bool, 256> plain{};
    for (std::size_t i = 0; i < plain.size(); ++i) plain[i] = i < 0x80 || beyond_ascii;
    for (const char c : special) plain[static_cast<unsigned char>(c)] = false;
    return plain;
}
constexpr auto plain_outside = make_plain("\n\r=.,\"'#[]{}", false);
constexpr auto plain_in_basic = make_plain("\n\"\\", true);
constexpr auto plain_in_literal = make_plain("\n'", true);

std::size_t skip(std::string_view text, std::size_t at, const std::array<bool, 256>& plain) {
    while (at < text.size() && plain[static_cast<unsigned char>(text[at])]) ++at;
    return at;
}

std::size_t skip_blanks(std::string_view text, std::size_t at) {
    while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
    return at;
}

std::size_t skip_bare_key(std::string_view text, std::size_t at) {
    while (at < text.size() && (is_bare_key(text[at]) || text[at] == '.')) ++at;
    return at;
}

} // namespace

bool starts_header(std::string_view text, std::size_t offset) {
    std::size_t at = skip_blanks(text, offset);
    if (at >= text.size() || text[at] != '[') return false;
    ++at;
    if (at < text.size() && text[at] == '[') ++at;
    at = skip_blanks(text, at);
    const std::size_t name_end = skip_bare_key(text, at);
    const std::string_view name = text.substr(at, name_end - at);
    const bool is_value = name == "true" || name == "false" || name == "nan" || name == "inf";
    const bool is_word = std::ranges::any_of(name, [](char c) { return c == '_' || (c | 0x20) >= 'a'; }) && !is_value;
    at = skip_blanks(text, name_end);
    if (!is_word || at >= text.size() || text[at] != ']') return false;
    while (at < text.size() && text[at] == ']') ++at;
    at = skip_blanks(text, at);
    return at >= text.size() || text[at] == '\n' || text[at] == '\r' || text[at] == '#';
}

bool starts_statement(std::string_view text, std::size_t offset) {
    const std::size_t key = skip_blanks(text, offset);
    const std::size_t key_end = skip_bare_key(text, key);
    const std::size_t after = skip_blanks(text, key_end);
    const bool is_pair = key_end > key && after < text.size() && text[after] == '=';
    return is_pair || starts_header(text, offset);
}

StatementScanner::StatementScanner(std::string_view text, const DocumentLimits& limits)
    : text_(text)
    , limits_(limits)
    , position_(byte_order_mark(text)) {}

std::size_t StatementScanner::line_end(std::size_t from) const {
    return std::min(text_.find('\n', from), text_.size());
}

void StatementScanner::report(Statement& statement, ScanProblem problem, std::size_t at) const {
    if (statement.problem != ScanProblem::none) return;
    statement.problem = problem;
    statement.problem_at = at;
}

void StatementScanner::check_line(Statement& statement) {
    if (position_ - line_start_ > limits_.line_bytes) report(statement, ScanProblem::line_too_long, line_start_);
}

bool StatementScanner::next(Statement& statement) {
    statement = {};
    while (position_ < text_.size()) {
        const char c = text_[position_];
        if (c == '\n') {
            check_line(statement);
            line_start_ = ++position_;
        } else if (c == '#') {
            position_ = line_end(position_);
            check_line(statement);
        } else if (c == ' ' || c == '\t' ||
                   (c == '\r' && position_ + 1 < text_.size() && text_[position_ + 1] == '\n')) {
            ++position_;
        } else {
            break;
        }
        if (statement.problem == ScanProblem::line_too_long) { // a comment: taken out like a statement
            statement.begin = line_start_;
            statement.end = position_;
            return true;
        }
    }
    if (position_ == text_.size()) return false;
    begin_statement(statement);
    while (step(statement)) {
    }
    finish(statement);
    return true;
}

void StatementScanner::begin_statement(Statement& statement) {
    statement.begin = position_;
    statement.header = text_[position_] == '[';
    depth_ = 0;
    dots_ = 0;
    braces_ = 0;
}

bool StatementScanner::step(Statement& statement) {
    position_ = skip(text_, position_, plain_outside);
    if (position_ == text_.size()) {
        check_line(statement);
        if (depth_ > 0) {
            report(statement, statement.header ? ScanProblem::open_header : ScanProblem::open_list, outermost_);
        }
        return false;
    }
    switch (text_[position_]) {
    case '\n':
        return line_break(statement);
    case '#':
        comment_ = position_;
        position_ = line_end(position_);
        return true;
    case '"':
    case '\'':
        quoted(statement);
        return true;
    default:
        other(statement);
        return true;
    }
}

void StatementScanner::other(Statement& statement) {
    const char c = text_[position_];
    if (c == '.') {
        if (++dots_ >= limits_.dotted_depth) report(statement, ScanProblem::dotted_too_deep, statement.begin);
    } else if (c == '[' || c == '{') {
        if (depth_ == 0) outermost_ = position_;
        braces_ = (braces_ << 1U) | (c == '{' ? 1U : 0U);
        if (++depth_ > most_nested) report(statement, ScanProblem::nested_too_deep, position_);
        dots_ = 0;
    } else if (c == ']' || c == '}') {
        braces_ >>= 1U;
        if (depth_ > 0) --depth_;
        dots_ = 0;
    } else if (c == '=' || c == ',') {
        if (c == '=' && depth_ == 0 && statement.equals == Statement::nowhere) statement.equals = position_;
        dots_ = 0;
    } else if (c == '\r') {
        if (at(position_ + 1) != '\n' || position_ + 1 == text_.size()) {
            report(statement, ScanProblem::lone_return, position_);
        }
    } else {
        report(statement, ScanProblem::symbol_outside_text, position_);
        position_ += code_point_at(text_, position_).bytes;
        return;
    }
    ++position_;
}

bool StatementScanner::line_break(Statement& statement) {
    check_line(statement);
    if (depth_ == 0) return false;
    if (statement.header) {
        report(statement, ScanProblem::open_header, outermost_);
        return false;
    }
    const std::size_t next_line = position_ + 1;
    if ((braces_ & 1U) != 0) {
        std::size_t last = comment_ >= line_start_ && comment_ > statement.begin ? comment_ : position_;
        while (last > statement.begin && (text_[last - 1] == ' ' || text_[last - 1] == '\t' || text_[last - 1] == '\r'))
            --last;
        const bool goes_on =
            text_[last - 1] == ',' || text_[last - 1] == '{' || at(skip_blanks(text_, next_line)) == '}';
        report(statement, ScanProblem::open_inline_table, outermost_);
        if (!goes_on || starts_header(text_, next_line)) return false;
    } else if (starts_statement(text_, next_line)) {
        report(statement, ScanProblem::open_list, outermost_);
        return false;
    }
    line_start_ = ++position_;
    return true;
}

void StatementScanner::quoted(Statement& statement) {
    const char quote = text_[position_];
    if (at(position_ + 1) == quote && at(position_ + 2) == quote) return multi_line(statement, quote);
    const auto& plain = quote == '"' ? plain_in_basic : plain_in_literal;
    const std::size_t opening = position_++;
    while (true) {
        position_ = skip(text_, position_, plain);
        const char c = at(position_);
        if (c == '\n') return report(statement, ScanProblem::open_text, opening);
        ++position_;
        if (c == quote) return;
        if (at(position_) != '\n') ++position_; // after a backslash
    }
}

void StatementScanner::multi_line(Statement& statement, char quote) {
    const auto& plain = quote == '"' ? plain_in_basic : plain_in_literal;
    const std::size_t opening = position_;
    position_ += 3;
    while (position_ < text_.size()) {
        position_ = skip(text_, position_, plain);
        const char c = at(position_);
        if (position_ >= text_.size()) break;
        if (c == '\n') {
            check_line(statement);
            line_start_ = ++position_;
        } else if (c == '\\') {
            position_ += at(position_ + 1) == '\n' ? 1 : 2;
        } else if (at(position_ + 1) == quote && at(position_ + 2) == quote) {
            position_ += 3;
            for (int extra = 0; extra < 2 && position_ < text_.size() && text_[position_] == quote; ++extra)
                ++position_;
            return;
        } else {
            ++position_;
        }
    }
    report(statement, ScanProblem::open_text, opening);
    position_ = line_end(opening);
    while (position_ < text_.size() && !starts_header(text_, position_ + 1)) position_ = line_end(position_ + 1);
    line_start_ = std::min(text_.rfind('\n', position_ - 1) + 1, position_);
    depth_ = 0;
}

void StatementScanner::finish(Statement& statement) const {
    statement.end = position_;
    const bool line_feed = position_ < text_.size() && text_[position_] == '\n';
    if (line_feed && statement.end > statement.begin && text_[statement.end - 1] == '\r') --statement.end;
    if (!statement.header && statement.equals == Statement::nowhere) {
        report(statement, ScanProblem::no_equals, statement.begin);
    }
}

} // namespace trivet
