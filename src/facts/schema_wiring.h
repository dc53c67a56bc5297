#pragma once

#include "facts/schema_words.h"

#include <array>

namespace trivet::declared {

// Facts of what carries and feeds current. A row a fact; order within a kind is the order of `trivet explain facts`.
constexpr std::array wiring_facts{
    FactDeclaration{build, "mains_wired", truth, "A wire ends on a terminal that carries mains voltage."},
    FactDeclaration{build, "highest_voltage", dim::voltage,
                    "The highest voltage between any two points, supplies at their upper tolerance, nothing loaded."},
    FactDeclaration{build, "heaters_guarded", truth, "Every heater has at least one independent cutoff."},
    FactDeclaration{build, "stuck_heat_survived", truth,
                    "With every switch stuck on and the independent cutoffs at work, nothing passes its limit."},
    FactDeclaration{build, "single_fault_hazards", dim::number,
                    "How many single faults lead to heat that nothing stops before a limit is passed; a heater shorted "
                    "inside and the short circuit of a battery are not counted."},
    FactDeclaration{build, "worst_single_fault", text, "The worst of them, in words."},
    FactDeclaration{
        build, "converter_fault_damages", dim::number,
        "How many converters put more voltage on what they feed than it bears when they fail and pass their "
        "input through; a board's own regulator is the board's affair."},
    FactDeclaration{build, "converter_fault", text, "The first of them, in words."},

    FactDeclaration{supply, "is_battery", truth, "It is a battery: nothing limits its current but its own resistance."},
    FactDeclaration{supply, "isolated", truth,
                    "It is stated to be a bought, certified supply isolated from mains, or a battery."},
    FactDeclaration{supply, "current", dim::current,
                    "The highest current it delivers in any state, at the corner that draws most."},
    FactDeclaration{supply, "start_current", dim::current,
                    "The highest current at the moment of switching on, everything cold and starting at once."},
    FactDeclaration{supply, "reverse_current", dim::current,
                    "The highest current that other sources push back into it."},
    FactDeclaration{supply, "rated_current", dim::current, "What it may deliver for ever, as stated."},
    FactDeclaration{supply, "derated_current", dim::current,
                    "Its rated current at the hottest ambient the build allows."},
    FactDeclaration{supply, "limit_current", dim::current, "The lowest current at which its own limiting may set in."},
    FactDeclaration{supply, "unfused_length", dim::length,
                    "The longest run of wire from its plus terminal that meets no fuse; no limit when a way back meets "
                    "none at all."},

    FactDeclaration{wire, "current", dim::current,
                    "The highest current it carries in any state, at the corner that draws most."},
    FactDeclaration{wire, "area", dim::area, "Cross-section of its copper."},
    FactDeclaration{wire, "insulation", text, "Insulation material."},
    FactDeclaration{wire, "insulation_class", dim::temperature,
                    "The highest continuous temperature its insulation bears."},
    FactDeclaration{wire, "ambient", dim::temperature, "The hottest air along it."},
    FactDeclaration{wire, "loaded_circuits", dim::number,
                    "How many circuits in its bundle heat it, itself included: pairs of conductors that carry more "
                    "than 1 A per mm²."},
    FactDeclaration{wire, "fault_current", dim::current,
                    "The highest current a short circuit can draw through it, limited by the supplies' own limits."},
    FactDeclaration{
        wire, "fuse_operating_current", dim::current,
        "The current from which the tightest fuse in its circuit surely opens; no limit when there is no fuse."},
    FactDeclaration{wire, "let_through", dim::joule_integral,
                    "The most I²t its fuse lets through in a short circuit before it opens."},
    FactDeclaration{
        wire, "before_battery_fuse", truth,
        "It is part of the lead from a battery to its first fuse; how long that may be is a rule of its own."},
    FactDeclaration{wire, "outputs_joined", dim::number,
                    "How many outputs (supplies, converters, driving pins) it joins directly."},
    FactDeclaration{wire, "near_heat", truth,
                    "It ends on a part that is in contact with a body of the design, or runs beside one."},
    FactDeclaration{wire, "touched_body", text, "That body; the hottest of several."},
    FactDeclaration{wire, "normal_place_temperature", dim::temperature,
                    "The hottest body it touches, while the controls work; the air along it when it touches none."},
    FactDeclaration{wire, "place_temperature", dim::temperature,
                    "The hottest body it touches, every switch stuck on, the independent cutoffs at work."},

    FactDeclaration{terminal, "needs_wire", truth, "Its part does not work without a wire here."},
    FactDeclaration{terminal, "wired", truth, "At least one wire ends here."},
    FactDeclaration{terminal, "kind", text, "How a wire is fastened: screw, spring, plug, ..."},
    FactDeclaration{terminal, "clamps", truth,
                    "It clamps the wire with a screw or a spring, so that its sizes matter."},
    FactDeclaration{terminal, "mates", truth,
                    "Current passes a contact or clamp here: screw, spring, plug, pin header or USB."},
    FactDeclaration{terminal, "wire_area", dim::area, "Cross-section of all wires that end here, together."},
    FactDeclaration{terminal, "smallest_area", dim::area, "The thinnest conductor it takes."},
    FactDeclaration{terminal, "largest_area", dim::area, "The thickest conductor it takes."},
    FactDeclaration{terminal, "current", dim::current, "The highest current through the wires that end here."},
    FactDeclaration{terminal, "rated_current", dim::current, "What its contact may carry."},
    FactDeclaration{terminal, "tinned_end", truth, "A wire end that was tinned with solder is put here."},

    FactDeclaration{fuse, "current", dim::current,
                    "The highest current it carries in any state, at the corner that draws most."},
    FactDeclaration{fuse, "family", text,
                    "Whose time-current gates it follows: blade, quick, time-lag, ul, resettable."},
    FactDeclaration{fuse, "rated_current", dim::current, "The current printed on it."},
    FactDeclaration{fuse, "rated_voltage", dim::voltage, "The DC voltage it can interrupt."},
    FactDeclaration{fuse, "breaking_capacity", dim::current, "The highest current it can interrupt safely."},
    FactDeclaration{fuse, "highest_voltage", dim::voltage,
                    "The highest voltage it may have to interrupt: of the supplies behind it."},
    FactDeclaration{fuse, "fault_current", dim::current, "The highest current a short circuit can draw through it."},
    FactDeclaration{fuse, "lowest_fault_current", dim::current,
                    "The lowest current that a dead short at the end of its circuit draws."},
    FactDeclaration{fuse, "operating_current", dim::current, "The current from which it surely opens."},
};

} // namespace trivet::declared
