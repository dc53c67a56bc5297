#include "facts/fact_table.h"

#include "expr/typecheck.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace trivet {

namespace {

bool fits(const ExprValue& value, const ExprType& type) {
    if (std::holds_alternative<Unknown>(value)) return true;
    if (std::holds_alternative<bool>(value)) return std::holds_alternative<TruthType>(type);
    if (std::holds_alternative<std::string>(value)) return std::holds_alternative<TextType>(type);
    const auto& quantity = std::get<AnyQuantity>(value);
    return type == ExprType{quantity.dimension} && !std::isnan(quantity.si);
}

Unknown misfit(const FactDeclaration& fact) {
    return {{},
            {fmt::format("'{}' should be {} and came out as something else, which is a mistake in Trivet itself",
                         fact.name, to_text(fact.type))}};
}

} // namespace

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
    const FactDeclaration& declared = declaration(fact);
    if (!fits(value.value, declared.type)) value.value = misfit(declared);
    value.is_set = true;
    cells_[static_cast<std::size_t>(subjects_[subject.value].kind)][cell(subject, fact)] = std::move(value);
}

std::span<const SubjectId> FactTable::of_kind(SubjectKind kind) const {
    return by_kind_[static_cast<std::size_t>(kind)];
}

const Fact* FactTable::find(SubjectId subject, FactId fact) const {
    const Fact& found = cells_[static_cast<std::size_t>(subjects_[subject.value].kind)][cell(subject, fact)];
    return found.is_set ? &found : nullptr;
}

std::string FactTable::describe(Circumstance circumstance) const {
    return circumstance == no_circumstance || !describer_ ? std::string{} : describer_(circumstance);
}

} // namespace trivet
