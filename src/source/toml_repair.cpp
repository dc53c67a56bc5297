#include "source/toml_repair.h"

#include "source/syntax_message.h"
#include "source/utf8.h"

#include <algorithm>

namespace trivet {
namespace {

// Parsing again costs a pass over the file: for large files few tries, so that no input takes long.
constexpr std::size_t large_file = 1U << 20U;
constexpr std::size_t tries_for_large_file = 3;

} // namespace

TomlRepair::TomlRepair(const SourceFile& file, const DocumentLimits& limits, Errors& errors)
    : file_(file)
    , limits_(limits)
    , errors_(&errors)
    , tries_(file.text.size() > large_file ? tries_for_large_file : limits.syntax_errors) {}

void TomlRepair::scan() {
    StatementScanner scanner(file_.text, limits_);
    Statement statement;
    while (scanner.next(statement)) {
        ++statements_;
        if (statement.header) find_cut(statement);
        if (statement.problem == ScanProblem::none) continue;
        errors_->push_back(describe_scan_problem(file_, statement, limits_));
        const bool line = statement.problem == ScanProblem::line_too_long;
        remove(statement, statement.equals != Statement::nowhere && (line || statement.problem_at > statement.equals));
        ++found_;
        if (out_of_tries(statement)) return;
    }
}

// A header without dots begins a new piece; [a.b] may belong to an [[a]] before it and is taken only when no other
// comes.
void TomlRepair::find_cut(const Statement& statement) {
    const std::size_t cut = file_.text.find_last_of('\n', statement.begin) + 1; // the line, so that columns stay
    const std::size_t size = cut - (cuts_.empty() ? 0 : cuts_.back());
    if (size == 0 || size < limits_.piece_bytes) return;
    const std::string_view header = file_.text.substr(statement.begin, statement.end - statement.begin);
    const bool dotted = header.substr(0, header.find('#')).find('.') != std::string_view::npos;
    if (!dotted || (size > 4 * limits_.piece_bytes && !header.starts_with("[["))) cuts_.push_back(cut);
}

void TomlRepair::take_out(const Refusal& refusal) {
    const std::size_t offset = offset_of(text(), refusal.line, refusal.column);
    const Statement statement = statement_at(offset);
    if (given_up_ || statement.begin == Statement::nowhere) {
        if (!given_up_) {
            errors_->push_back(
                {ErrorKind::syntax, place_at(file_, offset), "this is not valid TOML: " + refusal.message, {}});
        }
        given_up_ = true;
        lost_names_ = true;
        blank(0, file_.text.size());
        return;
    }
    errors_->push_back(describe_refusal(file_, statement, offset, refusal.message, limits_));
    const bool twice = errors_->back().kind == ErrorKind::duplicate_name;
    const bool in_value = statement.equals != Statement::nowhere && offset > statement.equals;
    const bool again = statement.begin == last_begin_;
    last_begin_ = statement.begin;
    if (again && statement.header) {
        remove_section(statement);
    } else {
        remove(statement, in_value && !twice && !again);
    }
    ++found_;
    if (tries_ > 0) --tries_;
    out_of_tries(statement);
}

bool TomlRepair::out_of_tries(const Statement& statement) {
    if (given_up_ || (found_ < limits_.syntax_errors && tries_ > 0)) return given_up_;
    given_up_ = true;
    if (text().find_first_not_of(" \t\r\n", statement.end) == std::string_view::npos) return true;
    errors_->push_back({ErrorKind::syntax, place_at(file_, statement.end), "the rest of the file was not tried",
                        "correct the errors above and run again"});
    lost_names_ = true;
    blank(statement.end, file_.text.size());
    return true;
}

Statement TomlRepair::statement_at(std::size_t offset) const {
    StatementScanner scanner(text(), limits_);
    Statement found;
    found.begin = Statement::nowhere;
    Statement statement;
    while (scanner.next(statement) && statement.begin <= offset) found = statement;
    return found;
}

void TomlRepair::blank(std::size_t begin, std::size_t end) {
    if (changed_.empty()) changed_ = file_.text;
    for (std::size_t i = std::max(begin, byte_order_mark(changed_)); i < end; ++i) {
        if (changed_[i] != '\n') changed_[i] = ' ';
    }
}

void TomlRepair::remove(const Statement& statement, bool only_value) {
    if (statement.header) {
        const std::string replacement = "[[" + std::string(stand_in) + "]]";
        if (statement.end - statement.begin < replacement.size()) return remove_section(statement);
        blank(statement.begin, statement.end);
        changed_.replace(statement.begin, replacement.size(), replacement);
        lost_names_ = true;
        return;
    }
    if (!only_value) return blank(statement.begin, statement.end);
    const std::size_t value = std::min(file_.text.find_first_not_of(" \t", statement.equals + 1), statement.end);
    const std::size_t zero =
        value < statement.end && file_.text[value] != '\n' && file_.text[value] != '\r' ? value : statement.equals + 1;
    if (zero >= statement.end || file_.text[zero] == '\n') return blank(statement.begin, statement.end);
    blank(zero, statement.end);
    changed_[zero] = '0';
    bad_values_.push_back(place_at(file_, zero));
}

void TomlRepair::remove_section(const Statement& header) {
    StatementScanner scanner(text(), limits_);
    Statement statement;
    std::size_t end = file_.text.size();
    while (scanner.next(statement)) {
        if (statement.begin <= header.begin || !statement.header) continue;
        end = statement.begin;
        break;
    }
    lost_names_ = true;
    blank(header.begin, end);
}

} // namespace trivet
