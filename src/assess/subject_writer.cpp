#include "assess/subject_writer.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace trivet {

namespace {

Circumstance circumstance_of(const Extreme& extreme) {
    return (static_cast<Circumstance>(extreme.state) << 32U) | extreme.corner;
}

// States are far fewer than this bit; situations have it set.
constexpr Circumstance situation_mark = Circumstance{1} << 62U;

} // namespace

std::optional<std::uint32_t> situation_of(Circumstance circumstance) {
    if (circumstance == no_circumstance || (circumstance >> 62U) != 1) return std::nullopt;
    return static_cast<std::uint32_t>(circumstance);
}

std::string subject_name(const Gathering& from, const Branch& branch) {
    const PartUse& use = from.part_of(branch);
    const Element& own = from.element_of(branch);
    for (std::size_t i = 0; i < use.part->elements.size(); ++i)
        if (i != branch.element && use.part->elements[i].body.index() == own.body.index())
            return use.name + "." + own.name;
    return use.name;
}

Extreme largest(const Span& span) {
    Extreme chosen = std::abs(span.lowest.value) > std::abs(span.highest.value) ? span.lowest : span.highest;
    chosen.value = std::abs(chosen.value);
    return chosen;
}

Unknown not_stated(std::string_view key, std::string_view name, std::string_view where) {
    return {{fmt::format("{} of {} (state it in {})", key, name, where)}, {}};
}

SubjectWriter::SubjectWriter(Gathering& to, SubjectKind kind, const Branch& branch)
    : SubjectWriter(to, kind, subject_name(to, branch), to.part_of(branch).place,
                    fmt::format("[part.{}]", to.part_of(branch).name)) {}

SubjectWriter::SubjectWriter(Gathering& to, SubjectKind kind, std::string name, Place place, std::string stated_where)
    : to_(&to)
    , kind_(kind)
    , subject_(to.facts.add({kind, name, place}))
    , name_(std::move(name))
    , stated_where_(std::move(stated_where)) {}

void SubjectWriter::set(std::string_view fact, ExprValue value, Place place, Certainty certainty,
                        Circumstance circumstance) {
    const FactLookup found = find_fact(kind_, fact);
    to_->facts.set(subject_, found.id, {std::move(value), circumstance, place, certainty, true});
}

void SubjectWriter::truth(std::string_view fact, bool value, Place place) {
    set(fact, value, place, Certainty::computed);
}

void SubjectWriter::text(std::string_view fact, std::string value, Place place) {
    set(fact, std::move(value), place, Certainty::computed);
}

void SubjectWriter::number(std::string_view fact, AnyQuantity value, Place place, Certainty certainty) {
    set(fact, value, place, certainty);
}

void SubjectWriter::flag(std::string_view fact, std::string_view key, const PerhapsFlag& given) {
    given ? set(fact, given->value, given->place, certainty_of(given->basis)) : absent(fact, key);
}

void SubjectWriter::absent(std::string_view fact, std::string_view key, std::string_view how) {
    unknown(fact, not_stated(key, name_, stated_where_ + std::string(how)));
}

void SubjectWriter::unknown(std::string_view fact, std::string reason) {
    unknown(fact, Unknown{{}, {std::move(reason)}});
}

void SubjectWriter::unknown(std::string_view fact, const Unknown& why) { set(fact, why, {}, Certainty::computed); }

void SubjectWriter::extreme(std::string_view fact, const Extreme& extreme, Dimension dimension) {
    if (std::isnan(extreme.value))
        return unknown(fact, fmt::format("no state that can be worked out puts a voltage on {}", name_));
    set(fact, AnyQuantity{extreme.value, dimension}, {}, Certainty::computed, circumstance_of(extreme));
}

void SubjectWriter::hottest(std::string_view fact, const Hottest& hottest, const Unknown& otherwise) {
    if (!hottest.value) return unknown(fact, otherwise);
    set(fact, any(*hottest.value), {}, Certainty::computed, situation_mark | hottest.situation);
}

} // namespace trivet
