#pragma once

#include "assess/subject_writer.h"

#include <optional>
#include <vector>

namespace trivet {

// Fill the facts of one subject kind each: the only place that knows both the analyses and the fact schema.
void gather_build(Gathering& to);
void gather_supplies(Gathering& to);
void gather_wires(Gathering& to);
void gather_terminals(Gathering& to);
void gather_fuses(Gathering& to);
void gather_contacts(Gathering& to);
void gather_transistors(Gathering& to);
void gather_converters(Gathering& to);
void gather_loads(Gathering& to);
void gather_heaters(Gathering& to);
void gather_cutoffs(Gathering& to);
void gather_pins(Gathering& to);
void gather_sensors(Gathering& to);
void gather_bodies(Gathering& to);
void gather_controls(Gathering& to);
void gather_placed_parts(Gathering& to);

// All of the above.
FactTable gather_facts(const Design& design, const Analysis& analysis, const FaultTable& single_faults,
                       const Handbook& handbook);

// Branches of one kind with their element's body.
template <class Body, class Use> void for_each_element(Gathering& to, BranchKind kind, Use use) {
    for (std::uint32_t i = 0; i < to.circuit().branches.size(); ++i)
        if (to.circuit().branches[i].kind == kind)
            use(BranchId{i}, std::get<Body>(to.element_of(to.circuit().branches[i]).body));
}

// Why temperatures are unknown: nothing described, numbers missing, or no way for the heat; empty when they are known.
Unknown why_no_heat(const Gathering& from, bool in_time);
Unknown why_no_running(const Gathering& from); // also controls that cannot be followed

// Whether heat of these bodies reaches another over heat paths, not through the room's air.
bool heat_reaches(const Gathering& from, const std::vector<BodyId>& sources, BodyId target);

// The thermal facts of a contact, cutoff, wire, heater.
void write_cycling(SubjectWriter& writer, const Gathering& from, BranchId id, const ContactElement& contact);
void write_cutoff_heat(SubjectWriter& writer, const Gathering& from, BranchId id, const CutoffElement& cutoff);
void write_wire_place(SubjectWriter& writer, const Gathering& from, const Wire& wire);
void write_heater_place(SubjectWriter& writer, const Gathering& from, const PartUse& use, PartId part);

// The facts that come from single faults: of the build, of a heater.
void write_single_faults(SubjectWriter& writer, const Gathering& from);
void write_breaches(SubjectWriter& writer, const Gathering& from, BranchId heater);

// The hottest air around a part.
Temperature hottest_ambient(const Design& design, const PartUse& use);

// Rated voltage and current of a contact or cutoff for a kind of load at a voltage; AC ratings do not count.
void write_contact_rating(SubjectWriter& writer, const std::vector<ContactRating>& rated, LoadCategory category,
                          double volts);

// Where the line cannot deliver what a load or converter asks for: the worst case of it.
void write_collapse(SubjectWriter& writer, const Gathering& from, BranchId id);

// A current (or another number that follows from the currents), unknown while a number decides it that nobody stated.
void write_current(SubjectWriter& writer, const Gathering& from, BranchId branch, std::string_view fact,
                   const Extreme& extreme, Dimension dimension = dim::current);

// A voltage (or another number that follows from the voltages of supplies), unknown while nobody stated one of them.
void write_voltage(SubjectWriter& writer, const Gathering& from, BranchId branch, std::string_view fact,
                   const Extreme& extreme, Dimension dimension = dim::voltage);

// The highest voltage between any two points of the branch's circuit with nothing loaded: in no state in particular.
Extreme unloaded_voltage(const Gathering& from, BranchId branch);

// Whether a part that is on always has its voltage the wrong way round; the noise of a shared return is no swap.
bool is_reversed(const Gathering& from, BranchId branch, const Span& voltage);

// What is missing of wires that carry a good part of this load's current but state no length or area: how low its
// voltage falls is unknown then.
std::vector<std::string> wires_without_length(const Gathering& from, BranchId load);

// What a short draws through a branch and which fuse stops it: the same three facts for wires, contacts, transistors.
void write_fault(SubjectWriter& writer, const Gathering& from, BranchId branch);

// The fuse that has to stop a short has no stated rating: why nothing about its opening is known.
std::optional<Unknown> unrated_fuse(const Gathering& from, const BranchFault& fault);
Unknown unstated_feed(const Gathering& from, BranchId branch); // why a short's current is unknown

} // namespace trivet
