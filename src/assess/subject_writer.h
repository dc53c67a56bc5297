#pragma once

#include "assess/analysis.h"
#include "assess/fault_table.h"
#include "catalog/given.h"
#include "design/design.h"
#include "facts/fact_table.h"

#include <string>
#include <string_view>

namespace trivet {

// What every gatherer needs: the inputs and the table to fill.
struct Gathering {
    const Design& design;
    const Analysis& analysis;
    const FaultTable& single_faults;
    const Handbook& handbook;
    FactTable& facts;

    const Circuit& circuit() const { return analysis.circuit; }
    const Branch& branch(BranchId id) const { return analysis.circuit.branches[id.value]; }
    const PartUse& part_of(const Branch& branch) const { return design.part(branch.part); }
    const Element& element_of(const Branch& branch) const { return part_of(branch).part->elements[branch.element]; }
    IslandId island_of(const Branch& branch) const { return analysis.circuit.island_of_node[branch.from.value]; }
};

// The name a builder knows an element by: the part's, with the element's own where the part has several of a kind.
std::string subject_name(const Gathering& from, const Branch& branch);

// Of a signed span, the end that is larger in amount, as a positive value with its circumstance.
Extreme largest(const Span& span);

// The situation of a thermal fact, if it is one.
std::optional<std::uint32_t> situation_of(Circumstance circumstance);

// Sets the facts of one subject by name. `key` is the word of the part file or design that states a value, for the
// hint.
class SubjectWriter {
public:
    // Of an element of a part: hints point at [part.NAME].
    SubjectWriter(Gathering& to, SubjectKind kind, const Branch& branch);
    SubjectWriter(Gathering& to, SubjectKind kind, std::string name, Place place, std::string stated_where);

    void truth(std::string_view fact, bool value, Place place = {});
    void text(std::string_view fact, std::string value, Place place = {});
    void number(std::string_view fact, AnyQuantity value, Place place = {}, Certainty certainty = Certainty::computed);
    void flag(std::string_view fact, std::string_view key, const PerhapsFlag& given);
    // Nobody stated it; `how` shows the spelling where the key is no word of the file: " as rated = {...}".
    void absent(std::string_view fact, std::string_view key, std::string_view how = {});
    void unknown(std::string_view fact, std::string reason); // it cannot be worked out: a whole clause
    void unknown(std::string_view fact, const Unknown& why);
    void extreme(std::string_view fact, const Extreme& extreme, Dimension dimension); // unknown when never taken

    // A highest temperature and the situation it belongs to; unknown for the reason given when it was not computed.
    void hottest(std::string_view fact, const Hottest& hottest, const Unknown& otherwise);

    template <Dimension D> void highest(std::string_view fact, std::string_view key, const Perhaps<D>& given) {
        given ? number(fact, any(given->range.hi), given->place, certainty_of(given->basis)) : absent(fact, key);
    }
    template <Dimension D> void lowest(std::string_view fact, std::string_view key, const Perhaps<D>& given) {
        given ? number(fact, any(given->range.lo), given->place, certainty_of(given->basis)) : absent(fact, key);
    }

    static Certainty certainty_of(Basis basis) {
        return basis == Basis::typical ? Certainty::typical : Certainty::stated;
    }

private:
    void set(std::string_view fact, ExprValue value, Place place, Certainty certainty,
             Circumstance circumstance = no_circumstance);

    Gathering* to_;
    SubjectKind kind_;
    SubjectId subject_;
    std::string name_;
    std::string stated_where_;
};

// What "nobody stated it" looks like in every message: "rated_voltage of main_fuse (state it in [part.main_fuse])".
Unknown not_stated(std::string_view key, std::string_view name, std::string_view where);

} // namespace trivet
