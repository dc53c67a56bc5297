#pragma once

#include "assess/analysis.h"
#include "protection/fault_outcome.h"
#include "thermal/heat_fault.h"

#include <array>
#include <string>
#include <vector>

namespace trivet {

// What becomes of a build when one thing fails, worst first.
enum class FaultClass : std::uint8_t {
    hazard,      // heat or fire: nothing stops it before a limit is passed
    cannot_tell, // the heater stays on, and how hot that gets is not described
    damages,     // a part sees more than it bears
    latent,      // nothing shows it: found only by the test in the checklist
    stops,       // something no longer works, the rest stays safe
    safe,        // nothing worse than before
};
inline constexpr std::array<std::string_view, 6> fault_class_names{"hazard", "cannot tell",   "damage",
                                                                   "latent", "stops working", "stays safe"};

// One fault and what it leads to, as data; report/fault_words.h puts it into a sentence.
struct FaultRow {
    std::string fault; // "heat_switch transistor shorted"
    FaultMode mode{};
    Place place;
    FaultClass outcome{};
    bool assumed = false;              // what the switch then does is not stated: the worse was taken
    std::vector<std::string> stuck_on; // heaters that stay on
    std::vector<std::string> cutoffs;  // that can still open
    bool heat_known = false;
    std::string stopped_by; // the cutoff that opens, empty: none
    Time stopped_after;
    std::string hottest; // body
    Temperature hottest_at;
    std::string limit; // what passes its limit, "the limit of pot"; empty: nothing
    Temperature limit_at;
    Temperature reached;
    struct Excess {
        std::string what; // "voltage of board"
        AnyQuantity value;
        AnyQuantity limit;
    };
    std::vector<Excess> exceeded;
    std::vector<std::string> unfed;      // loads that get nothing
    std::vector<std::string> overloaded; // supplies asked for more than they give
};

struct FaultTable {
    std::vector<FaultRow> rows; // worst first, then in the order of the file
    std::array<std::size_t, 6> count{};
};

// Every single fault of the design; with `pairs` every latent fault together with every other fault instead.
FaultTable fault_table(const Design& design, const Analysis& analysis, bool pairs = false);

} // namespace trivet
