#pragma once

#include "facts/schema.h"
#include "source/span.h"

#include <optional>
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

// One value of one subject, with where it comes from.
struct Fact {
    ExprValue value;          // Unknown when not stated; then `missing` says what to state and where
    std::string circumstance; // state and corner: "heat_switch on; supply high, plate low"; empty if it does not depend
    Place place;              // where the deciding number stands, if one place decides
    Certainty certainty = Certainty::computed;
};

struct Subject {
    SubjectKind kind{};
    std::string name;  // as the user knows it: "main_fuse", "W3 (supply.+ to main_fuse.in)"
    Place place;       // in the design
};

// Subjects and their facts. A fact that was never set reads as Unknown "not computed", which a test forbids.
class FactTable {
public:
    SubjectId add(Subject subject);
    void set(SubjectId subject, FactId fact, Fact value);

    const std::vector<Subject>& subjects() const { return subjects_; }
    std::span<const SubjectId> of_kind(SubjectKind kind) const;
    const Fact* find(SubjectId subject, FactId fact) const; // nullptr if never set

private:
    std::vector<Subject> subjects_;
    std::vector<std::vector<SubjectId>> by_kind_ = std::vector<std::vector<SubjectId>>(subject_kind_names.size());
    std::vector<std::vector<Fact>> facts_;     // per subject, indexed by the fact's rank within its subject kind
    std::vector<std::vector<bool>> is_set_;
};

} // namespace trivet
