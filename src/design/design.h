#pragma once

#include "catalog/catalog.h"
#include "catalog/part.h"
#include "source/loaded.h"
#include "units/range.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace trivet {

struct PartId {
    std::uint32_t value = 0;
    auto operator<=>(const PartId&) const = default;
};
struct WireId {
    std::uint32_t value = 0;
    auto operator<=>(const WireId&) const = default;
};

struct BodyId {
    std::uint32_t value = 0;
    auto operator<=>(const BodyId&) const = default;
};

// A place where a wire ends: terminal of a part of this design.
struct TerminalRef {
    PartId part;
    TerminalIndex terminal;
    auto operator<=>(const TerminalRef&) const = default;
};

// One [part.NAME]: which library part it is, what the builder states differently, where it sits.
struct PartUse {
    std::string name;
    std::string is;
    std::shared_ptr<const Part> part; // with overrides applied
    Place place;
    std::optional<PartId> mounted_on;  // thermal contact
    std::string mounted_on_name;       // a part or a [[body]]
    std::optional<BodyId> on_body;     // the body it is in thermal contact with: mounted on, or on a part that heats it
    std::optional<BodyId> beside_body; // the body it sits under or beside, without contact
    std::optional<BodyId> sees_body;   // the body a contactless sensor looks at
    std::optional<TerminalRef> bonded_to;            // the terminal to which its metal that can be touched is joined
    std::map<std::string, Stated<std::string>> pins; // terminal -> mode the firmware configures
    std::optional<Stated<Range<dim::temperature>>> ambient; // air around it, if not the build's
    std::string note;                                       // the builder's remark, may be empty
};

enum class WireEnd : std::uint8_t { unstated, bare, ferrule, tinned, crimped, soldered, plug };
inline constexpr std::array<std::string_view, 7> wire_end_names{"unstated", "bare",     "ferrule", "tinned",
                                                                "crimped",  "soldered", "plug"};

// One conductor. Area and insulation come from its wire part or are stated directly; a stated area without conductor
// class is flexible hook-up wire ("class 5"), an insulation without class has that of insulation_classes.
struct Wire {
    std::string name; // given, or "W1" in file order
    TerminalRef from;
    TerminalRef to;
    WireElement made_of;
    std::optional<Given<dim::length>> length;
    std::string colour; // IEC 60757 letters, checked; may be empty
    std::string bundle; // may be empty
    WireEnd from_end{};
    WireEnd to_end{};
    std::optional<Stated<Range<dim::temperature>>> ambient; // air along it, if not the build's
    std::optional<BodyId> beside_body;                      // a body it touches or runs along
    Place place;
};

// What the firmware is trusted for, in normal running only.
struct Control {
    std::string name;
    std::vector<PartId> senses;
    std::vector<PartId> drives;
    std::optional<Stated<Range<dim::temperature>>> setpoint;
    std::optional<Stated<Range<dim::temperature_difference>>> band;
    std::optional<Stated<Range<dim::time>>> every;
    std::optional<Stated<Range<dim::temperature>>> firmware_limit; // shown, never counted
    bool proportional = false; // method = "proportional": it doses the power finely; otherwise on/off within `band`
    std::vector<PartId> never_with; // switches the firmware never closes together with `drives`
    Place place;
};

// A lump of one temperature. Its capacity is stated, or mass times the material's specific heat, or left open.
struct Body {
    std::string name;
    std::vector<PartId> heated_by; // heaters and other parts whose losses end up in it
    std::optional<Stated<Range<dim::mass>>> mass;
    std::string material;
    std::optional<MaterialElement> made_of; // of that material
    std::optional<Stated<Range<dim::heat_capacity>>> capacity;
    std::optional<Stated<Range<dim::temperature>>> limit; // if not its material's
    std::optional<Stated<bool>> touchable;
    std::string touch;                                   // word of touch_class_names, if not its material's
    std::optional<Stated<Range<dim::time>>> touched_for; // longest contact to reckon with
    bool may_be_covered = false;                         // a state to reckon with: may_be = ["covered", "empty"]
    bool may_be_empty = false;                           // taken away: dry pot, empty tray
    bool liquid = false;                                 // stated, or its material is
    std::vector<PartId> above;                           // parts that its liquid would reach
    bool above_stated = false;                           // an empty list says that there are none
    Place place;
};

// How heat passes between two bodies or from a body to the room: exactly one of a conductance; an area, thickness and
// material; an area and facing (still air and radiation, with a fan's stream when it runs); or nothing (left open: a
// measured log decides).
struct HeatPath {
    std::string from;
    std::string to;                // a body or "ambient"
    BodyId from_body;              // paths are turned so that this one is a body
    std::optional<BodyId> to_body; // empty: the room
    std::optional<Stated<Range<dim::thermal_conductance>>> conductance;
    std::optional<Stated<Range<dim::area>>> area;
    std::optional<Stated<Range<dim::length>>> thickness;
    std::string material;
    std::optional<MaterialElement> made_of;
    std::string facing; // word of facing_names; empty: no surface
    std::optional<Stated<Range<dim::length>>>
        height; // vertical surfaces, diameter of round ones; else a square is assumed
    std::optional<Stated<Range<dim::length>>> width; // horizontal surfaces: one side
    std::optional<Stated<double>> emissivity;        // otherwise that of the body's material
    std::optional<PartId> fan;                       // whose stream runs along the surface
    std::optional<Stated<Range<dim::speed>>> air_speed;
    std::optional<BodyId> without; // exists only while that body is taken away: what was under it
    Place place;
};
inline constexpr std::array<std::string_view, 4> facing_names{"up", "down", "vertical", "round"};

struct PolicyChange {
    std::string name;
    std::string text; // value as written: number or quantity
    Place place;
};

struct Design {
    FileId file;
    std::string title;
    std::string purpose;
    Stated<Range<dim::temperature>> ambient; // of the air around the build
    std::optional<Stated<bool>> attended;
    std::vector<PartUse> parts; // PartId indexes
    std::vector<Wire> wires;    // WireId indexes
    std::vector<Control> controls;
    std::vector<Body> bodies; // BodyId indexes
    std::vector<HeatPath> heat_paths;
    std::vector<PolicyChange> policy;

    const PartUse& part(PartId id) const { return parts[id.value]; }
    const Wire& wire(WireId id) const { return wires[id.value]; }
    const Body& body(BodyId id) const { return bodies[id.value]; }
    std::string terminal_name(TerminalRef ref) const; // "main_fuse.in"
};

} // namespace trivet
