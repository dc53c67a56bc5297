#pragma once

#include "facts/fact_table.h"
#include "rules/rule.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace trivet {

enum class Verdict : std::uint8_t { pass, fail, cannot_tell };
inline constexpr std::array<std::string_view, 3> verdict_names{"pass", "fail", "cannot tell"};
static_assert(verdict_names.size() == static_cast<std::size_t>(Verdict::cannot_tell) + 1);

// One name a verdict rests on: a fact, a let or a policy item, with its value and where that comes from.
struct Evidence {
    std::string name;
    std::string value;        // rendered: "4.17 A"; "not stated" when unknown
    std::string formula;      // of a let; empty otherwise
    std::string circumstance; // state and corner
    Place place;
    Certainty certainty = Certainty::computed;
    std::optional<AnyQuantity> quantity; // the number itself, for JSON and for charts
};

// A rule's verdict on one subject, with the numbers it rests on. Never a finished sentence: `message` renders it.
struct Finding {
    const Rule* rule = nullptr; // lives in the RuleSet
    SubjectId subject;
    Verdict verdict{};
    std::optional<double> margin; // rating over load of the deciding comparison; infinite where there is no load
    std::vector<Evidence> evidence;
    std::vector<std::string> missing; // for cannot_tell: what to state, and where
    std::vector<std::string>
        reasons;       // for cannot_tell: what else stands in the way, as clauses: "'a / b' divides by zero"
    std::string needs; // "2.40 A <= 2.40 A": the deciding comparison with its numbers
};

// The rule's message and remedy with this finding's numbers filled in. For cannot_tell the sentence says what is
// missing.
std::string message(const Finding& finding, const FactTable& facts);
std::string remedy(const Finding& finding, const FactTable& facts);

// Findings that say the same thing, for people: one rule with one verdict and a sentence that differs only in the
// subject, or (cannot tell) everything that misses the same value, whatever the rule.
struct FindingGroup {
    std::vector<std::size_t> members;    // indices into the findings, in their order
    std::vector<std::string_view> rules; // names, without repetition
    std::vector<SubjectId> subjects;     // without repetition
    Verdict verdict{};
    Consequence consequence{}; // the worst of its members
    std::string sentence;      // names at most four subjects, then "and 96 more"
};

// Groups stand where their first member stood: sort the findings first.
std::vector<FindingGroup> group(std::span<const Finding> findings, const FactTable& facts);

// Worst first: consequence, then fail before cannot tell before pass, then thinnest margin, then place, then rule name.
void sort_findings(std::vector<Finding>& findings, const FactTable& facts);

} // namespace trivet
