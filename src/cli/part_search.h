#pragma once

#include "catalog/part.h"
#include "units/quantity.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// What somebody looks for: words of names and titles, and quantities the part must suit.
struct PartQuery {
    std::vector<std::string> words; // lower case
    std::vector<AnyQuantity> asked; // voltages, currents, powers, resistances, areas, temperatures, capacitances
    bool alternating = false;       // "ac" beside a quantity; otherwise contacts are judged by their DC ratings
};

// Reads "24V", "24 V", "60 W", "100k", "1 mm2", "18 AWG", "110 C" as quantities; anything else is a word.
PartQuery read_query(const std::vector<std::string>& words);

std::string lower_case(std::string_view text); // ASCII letters only

// Why a part fits. Parts with less to spare come first in a list.
struct PartMatch {
    std::string deciding; // "contact 10.0 A at 30.0 V DC"; empty when no quantity was asked
    double spare = 0.0;   // sum of the logarithms of how much more it offers than was asked
};

// All words occur in name, title or category and every quantity suits the part:
// - what switches, protects or connects is rated for at least that much, current and voltage in one rating
//   (a voltage alone means the coil's, where there is one);
// - a converter takes or gives that voltage and gives at least that current;
// - what gives or uses power is made for that voltage (working range, or 10 % around a single value), gives or takes at
//   least that current, and has that power within 10 % (a supply: at least);
// - resistance, capacitance and area within 10 %; a temperature is one it trips or works at, or bears.
std::optional<PartMatch> match(const Part& part, const PartQuery& query);

} // namespace trivet
