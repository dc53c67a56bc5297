#pragma once

#include "design/reading.h"

namespace trivet {

// What one wire says of itself, in either form; words not yet looked up.
struct WireStatement {
    Place place;
    std::optional<Stated<std::string_view>> name;
    std::optional<Stated<std::string_view>> from;
    std::optional<Stated<std::string_view>> to;
    std::optional<Stated<std::string_view>> use;
    std::optional<Stated<std::size_t>> insulation;      // index of insulation_names
    std::optional<Stated<std::size_t>> conductor_class; // index of conductor_class_names
    std::optional<Stated<Range<dim::area>>> area;
    std::optional<Stated<Range<dim::temperature>>> insulation_class;
    std::optional<Stated<Range<dim::length>>> length;
    std::optional<Stated<Range<dim::temperature>>> ambient;
    std::optional<Stated<std::string_view>> colour;
    std::optional<Stated<std::string_view>> bundle;
    std::optional<Stated<std::string_view>> ends;   // "ferrule/bare": from / to, or one word for both
    std::optional<Stated<std::string_view>> beside; // a part or body it touches or runs along
    WireEnd from_end{};
    WireEnd to_end{};
    Basis basis = Basis::measured; // of what the design states itself
};

// Reads "supply.+ -> main_fuse.in : 1.0mm2 pvc 25 cm RD bundle=loom-a ends=ferrule/bare". Words after the colon in any
// order: area, insulation or a wire part's name, length, colour, bundle=, ends=, beside=, name=. Errors point into the
// text.
std::optional<WireStatement> read_wire_line(Reading& reading, const Stated<std::string_view>& line);

// Reads one [[wire]].
WireStatement read_wire_table(TableReader& table);

} // namespace trivet
