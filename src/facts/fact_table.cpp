#include "facts/fact_table.h"

#include <utility>

namespace trivet {

SubjectId FactTable::add(Subject subject) {
    const auto kind = static_cast<std::size_t>(subject.kind);
    const SubjectId id{static_cast<std::uint32_t>(subjects_.size())};
    rank_.push_back(static_cast<std::uint32_t>(by_kind_[kind].size()));
    by_kind_[kind].push_back(id);
    cells_[kind].resize(cells_[kind].size() + facts_of(subject.kind).count);
    subjects_.push_back(std::move(subject));
    return id;
}

std::size_t FactTable::cell(SubjectId subject, FactId fact) const {
    const FactsOfKind facts = facts_of(subjects_[subject.value].kind);
    return rank_[subject.value] * facts.count + (fact.value - facts.first);
}

void FactTable::set(SubjectId subject, FactId fact, Fact value) {
    value.is_set = true;
    cells_[static_cast<std::size_t>(subjects_[subject.value].kind)][cell(subject, fact)] = std::move(value);
}

std::span<const SubjectId> FactTable::of_kind(SubjectKind kind) const { return by_kind_[static_cast<std::size_t>(kind)]; }

const Fact* FactTable::find(SubjectId subject, FactId fact) const {
    const Fact& found = cells_[static_cast<std::size_t>(subjects_[subject.value].kind)][cell(subject, fact)];
    return found.is_set ? &found : nullptr;
}

std::string FactTable::describe(Circumstance circumstance) const {
    return circumstance == no_circumstance || !describer_ ? std::string{} : describer_(circumstance);
}

} // namespace trivet
