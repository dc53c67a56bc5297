#pragma once

#include "source/toml_scan.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// What the TOML library said and where, in its own lines and columns.
struct Refusal {
    std::string message;
    std::uint32_t line = 0;
    std::uint32_t column = 0;
};

// Takes statements that cannot be read out of a text, so that all errors of a file come out in one run. Nothing moves:
// what is taken out becomes blanks, a bad value becomes 0, a bad header becomes a stand-in whose section is dropped.
class TomlRepair {
public:
    TomlRepair(const SourceFile& file, const DocumentLimits& limits, Errors& errors);

    void scan();                           // files what the library must not see or says badly, and takes it out
    void take_out(const Refusal& refusal); // files it, so that parsing can be tried again; ends after few calls

    std::string_view text() const { return changed_.empty() ? file_.text : std::string_view(changed_); }
    std::size_t statements() const { return statements_; }
    const std::vector<std::size_t>& cuts() const { return cuts_; }       // headers at which a large file may be cut
    const std::vector<Place>& bad_values() const { return bad_values_; } // where a 0 stands for a value
    bool lost_names() const { return lost_names_; }                      // a section or the rest was dropped

    static constexpr std::string_view stand_in = "-"; // key of the sections to drop, at the root

private:
    void find_cut(const Statement& statement);
    void remove(const Statement& statement, bool only_value);
    void remove_section(const Statement& header);
    void blank(std::size_t begin, std::size_t end);
    bool out_of_tries(const Statement& statement); // files the last entry and drops the rest
    Statement statement_at(std::size_t offset) const;

    SourceFile file_;
    DocumentLimits limits_;
    Errors* errors_;
    std::string changed_; // empty as long as nothing was taken out
    std::vector<Place> bad_values_;
    std::vector<std::size_t> cuts_;
    std::size_t statements_ = 0;
    std::size_t found_ = 0;
    std::size_t tries_ = 0;
    std::size_t last_begin_ = Statement::nowhere;
    bool given_up_ = false;
    bool lost_names_ = false;
};

} // namespace trivet
