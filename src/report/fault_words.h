#pragma once

#include "assess/fault_table.h"

#include <string>

namespace trivet {

// "heat_switch shorted: mat stays on; over_temp opens after 14 min; the hottest is pad with 52.3 °C."
std::string fault_sentence(const FaultRow& row);

// "heat_switch shorted", of a pair "heat_switch shorted while over_temp never opens".
std::string fault_title(const FaultRow& row);

// What follows the colon: one or more sentences that begin with a name or a small letter and end with a stop.
std::string fault_consequence(const FaultRow& row);

// What heats although nothing has failed, in sentences; empty: nothing does.
std::string sound_words(const FaultTable& table);

// "1 hazard, 2 damages, 3 latent, 40 stop working and 12 stay safe, of 58 single faults."
std::string fault_tally(const FaultTable& table);

// "14 hazards", "1 stops working".
std::string fault_count(FaultClass outcome, std::size_t count);

// "mat, plate and 3 others" from the sixth name on; all of them up to five.
std::string listed_names(const std::vector<std::string>& names);

} // namespace trivet
