#pragma once

#include "facts/schema.h"
#include "source/span.h"

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

namespace trivet {

struct SubjectId {
    std::uint32_t value = 0;
    auto operator<=>(const SubjectId&) const = default;
};

// How sure a value is: what the library only knows as typical comes back as "confirm on your part's datasheet".
enum class Certainty : std::uint8_t { computed, stated, typical };

// State and corner a value was taken in, as a key that only the analysis can put into words (FactTable::describe).
// Words cost more than numbers, and only findings that are shown need them.
using Circumstance = std::uint64_t;
inline constexpr Circumstance no_circumstance = ~Circumstance{0};

// One value of one subject, with where it comes from.
struct Fact {
    ExprValue value; // Unknown when not stated; it says what to state and where
    Circumstance circumstance = no_circumstance;
    Place place; // where the deciding number stands, if one place decides
    Certainty certainty = Certainty::computed;
    bool is_set = false;
};

struct Subject {
    SubjectKind kind{};
    std::string name; // as the user knows it: "main_fuse", "W3 (supply.+ to main_fuse.in)"
    Place place;      // in the design
};

// Subjects and their facts. A fact that was never set is a bug of the analysis that a test forbids.
class FactTable {
public:
    using Describer = std::function<std::string(Circumstance)>;

    SubjectId add(Subject subject);
    // `fact` is one of the subject's kind. A value of another type than declared, or NaN, is kept as Unknown with that
    // reason, so that a slip of an analysis can never pass a rule.
    void set(SubjectId subject, FactId fact, Fact value);
    void describe_with(Describer describer) { describer_ = std::move(describer); }

    const std::vector<Subject>& subjects() const { return subjects_; }
    const Subject& subject(SubjectId id) const { return subjects_[id.value]; }
    std::span<const SubjectId> of_kind(SubjectKind kind) const;
    const Fact* find(SubjectId subject, FactId fact) const; // nullptr if never set
    std::string describe(Circumstance circumstance) const;  // empty for no_circumstance

private:
    std::size_t cell(SubjectId subject, FactId fact) const;

    std::vector<Subject> subjects_;
    std::vector<std::uint32_t> rank_; // [subject]: its number among its kind
    std::vector<std::vector<SubjectId>> by_kind_ = std::vector<std::vector<SubjectId>>(subject_kind_names.size());
    std::vector<std::vector<Fact>> cells_ =
        std::vector<std::vector<Fact>>(subject_kind_names.size()); // [kind][rank x fact]
    Describer describer_;
};

} // namespace trivet
