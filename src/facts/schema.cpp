#include "facts/schema.h"

#include "facts/schema_heat.h"
#include "facts/schema_switching.h"
#include "facts/schema_wiring.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr auto schema = [] {
    using namespace declared;
    std::array<FactDeclaration, wiring_facts.size() + switching_facts.size() + heat_facts.size()> all{};
    auto to = std::ranges::copy(wiring_facts, all.begin()).out;
    to = std::ranges::copy(switching_facts, to).out;
    std::ranges::copy(heat_facts, to);
    return all;
}();

} // namespace

std::span<const FactDeclaration> fact_schema() { return schema; }

FactsOfKind facts_of(SubjectKind subject) {
    constexpr auto ranges = [] {
        std::array<FactsOfKind, subject_kind_names.size()> found{};
        for (std::uint16_t i = 0; i < schema.size(); ++i) {
            FactsOfKind& range = found[static_cast<std::size_t>(schema[i].subject)];
            if (range.count++ == 0) range.first = i;
        }
        return found;
    }();
    return ranges[static_cast<std::size_t>(subject)];
}

FactLookup find_fact(SubjectKind subject, std::string_view name) {
    const FactsOfKind range = facts_of(subject);
    for (std::uint16_t i = range.first; i < range.first + range.count; ++i)
        if (schema[i].name == name) return {true, FactId{i}};
    return {};
}

} // namespace trivet
