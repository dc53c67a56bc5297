#pragma once

#include "catalog/element.h"

#include <string>
#include <vector>

namespace trivet {

enum class TerminalKind : std::uint8_t { unstated, screw, spring, solder, crimp_tab, pin_header, plug, lead, usb };
inline constexpr std::array<std::string_view, 9> terminal_kind_names{
    "unstated", "screw", "spring", "solder", "crimp tab", "pin header", "plug", "lead", "usb"};

// Where a wire ends on a part, and what fits there.
struct TerminalSpec {
    std::string name;
    TerminalKind kind{};
    Perhaps<dim::area> area; // conductor sizes it takes
    Perhaps<dim::current> rated_current;
    bool mains = false; // carries mains voltage: a design that wires it is refused
};

// A bought or salvaged thing: a composition of elements, pure data. Generic: a class of part, never a product.
struct Part {
    std::string name;
    std::string title;
    std::string category; // name of the file it stands in, without ending: "supplies"
    std::string source;
    Basis basis{};
    Place place;
    Perhaps<dim::temperature> temperature_limit; // the hottest place it may sit at for ever; unstated: unknown
    std::vector<TerminalSpec> terminals;
    std::vector<Element> elements;

    // Index of a terminal by name, or -1.
    int terminal(std::string_view terminal_name) const;
};

} // namespace trivet
