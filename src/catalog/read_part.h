#pragma once

#include "catalog/catalog.h"
#include "catalog/property_source.h"

namespace trivet {

// Reads one part from the text cut out of its file. The value is present only when the text has no error.
Loaded<Part> read_part(const PartText& text);

// What a [....terminal."+"] table says about a terminal of the part.
void read_terminal(TableReader& reader, const Part& part, Basis basis, Purpose purpose, TerminalSpec& terminal);

// What a part states as a whole, beside its elements. A design may restate it.
void read_part_values(PropertySource& source, Part& part);

// Consistency between the elements of a part: what drives a switch exists, a setting lies inside its range.
void check_links(Part& part, Errors& errors);

// Values of one element that cannot both be true: a limit below the rating, a power that is not V²/R. For a part's own
// text; what a design states beside typical values may well differ from them.
void check_values(const Part& part, Errors& errors);

} // namespace trivet
