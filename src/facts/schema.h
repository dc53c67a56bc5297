#pragma once

#include "expr/value.h"

#include <array>
#include <cstdint>
#include <span>
#include <string_view>

namespace trivet {

// What a rule can be about. A subject is one thing of the design: one wire, one fuse, ...
enum class SubjectKind : std::uint8_t {
    build,      // the design as a whole, one subject
    supply,     // a source element: supply or battery
    wire,       // a wire of the design
    terminal,   // a terminal with at least one wire, or one that needs a wire
    fuse,       // a fuse element
    contact,    // a relay contact or hand switch
    transistor, // a semiconductor switch
    converter,  // a converter element
    load,       // everything that takes power: heaters, loads, coils
    heater,     // a heater element
    cutoff,     // a thermal cutoff element
    pin,        // a controller pin that is wired
    sensor,     // a part that senses, seen from the board that reads it
    body,       // a [[body]] of the design
    control,    // a [[control]] of the design
    part,       // a part that sits on or beside a body
};

inline constexpr std::array<std::string_view, 16> subject_kind_names{
    "build", "supply", "wire",   "terminal", "fuse",   "contact", "transistor", "converter",
    "load",  "heater", "cutoff", "pin",      "sensor", "body",    "control",    "part"};
static_assert(subject_kind_names.size() == static_cast<std::size_t>(SubjectKind::part) + 1);

// One declared fact: what rules may name. Declared once here, filled in assess/gather, documented from itself.
struct FactDeclaration {
    SubjectKind subject{};
    std::string_view name;
    ExprType type;
    std::string_view text; // one sentence for people: what it is, in which state and corner it is taken
};

struct FactId {
    std::uint16_t value = 0;
    auto operator<=>(const FactId&) const = default;
};

// All facts, ordered by subject kind, then as declared.
std::span<const FactDeclaration> fact_schema();

// The facts of one subject kind stand together in the schema.
struct FactsOfKind {
    std::uint16_t first = 0;
    std::uint16_t count = 0;
};
FactsOfKind facts_of(SubjectKind subject);

inline const FactDeclaration& declaration(FactId id) { return fact_schema()[id.value]; }

struct FactLookup {
    bool found = false;
    FactId id;
};
FactLookup find_fact(SubjectKind subject, std::string_view name);

} // namespace trivet
