#pragma once

#include "assess/analysis.h"
#include "assess/heat_guards.h"
#include "protection/fault_outcome.h"
#include "thermal/heat_fault.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace trivet {

// What becomes of a build when one thing fails, worst first.
enum class FaultClass : std::uint8_t {
    hazard,      // heat or fire: nothing stops it before a limit is passed
    cannot_tell, // a heater stays on, and how hot that gets is not described
    damages,     // a part sees more than it bears
    latent,      // nothing shows it: found only by the test in the checklist
    stops,       // something no longer works, the rest stays safe
    safe,        // nothing worse than before
};
inline constexpr std::array<std::string_view, 6> fault_class_names{"hazard", "cannot tell",   "damage",
                                                                   "latent", "stops working", "stays safe"};

// How hot it gets while a heater stays on or a fan stands still.
struct FaultHeat {
    std::string stopped_by; // the cutoff that opens, empty: none
    Time stopped_after;
    std::string hottest; // body; empty: none is described
    Temperature hottest_at;
    struct Passed {
        std::string body;
        std::string limit; // whose: "the limit of pot", "the insulation of W3"
        Temperature limit_at;
        Temperature reached;
    };
    std::optional<Passed> passed; // the limit passed by most
};

// One fault and what it leads to, as data; report/fault_words.h puts it into a sentence.
struct FaultRow {
    std::string fault; // "heat_switch shorted"
    std::string with;  // of a pair: the latent one, "over_temp never opens"
    std::string wire;  // the name of the wire that is broken, empty: it is none
    std::string mode;  // one of fault_mode_names
    Place place;       // of the part, wire or control
    FaultClass outcome{};
    bool assumed = false; // what the switch then does is not stated: the worse was taken
    bool latent = false;  // nothing shows it until something else fails

    std::vector<std::string> stuck_on; // heaters that stay on
    bool while_hand_switch_on = false; // but only then
    std::vector<std::string> cutoffs;  // that can still end it
    std::vector<std::string> hand_switches;
    std::vector<std::string> switches;   // that still obey someone
    std::vector<std::string> overdriven; // heaters that are on without a fault, too, and now get more
    double overdrive = 1.0;              // times their power
    std::optional<FaultHeat> heat;       // empty: nothing stays on, or it cannot be told
    std::vector<std::string> missing;    // why it cannot: "the mass or capacity of pot"

    struct Excess {
        ::trivet::Excess kind{};
        std::string of; // part or pin
        AnyQuantity value;
        AnyQuantity limit;
    };
    std::vector<Excess> exceeded;
    std::vector<Excess> fuses;           // that carry more than they are made for
    std::vector<std::string> unfed;      // loads that get nothing
    std::vector<std::string> overloaded; // supplies asked for more than they give
    bool unlimited = false;              // one of them is a battery, which limits nothing
    std::vector<std::string> in_the_way; // fuses that then may open
    std::vector<std::string> starved;    // loads and converters whose line cannot deliver what they ask for
};

struct FaultTable {
    std::vector<GuardedHeater> heaters; // who turns each heater off while nothing fails
    std::optional<FaultRow> sound;      // heaters that are on without any fault, whatever firmware and thermostats say
    std::optional<FaultHeat::Passed> running; // too hot already while everything works
    std::vector<FaultRow> rows;               // worst first, then in the order of the file
    std::array<std::size_t, fault_class_names.size()> count{};
    bool pairs = false;
    std::size_t no_worse = 0; // pairs left out: nothing worse than one of the two alone

    bool has_hazard() const; // or something that cannot be told, with or without a fault
};

// Every single fault of the design; with `pairs` every latent fault together with every other one, as far as that is
// worse than each alone.
FaultTable fault_table(const Design& design, const Analysis& analysis, bool pairs = false);

} // namespace trivet
