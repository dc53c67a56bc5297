#pragma once

#include "protection/fault_cases.h"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace trivet {

// Faults in everyday words: "wire W3 broken", "over_temp never opens", "relay coil shorted", "board.IO16 stuck high".
// The element of a part is named only where the part has several that can fail.
class FaultNames {
public:
    FaultNames(const Design& design, const std::vector<FaultCase>& cases);

    std::string operator()(const FaultCase& fault) const;

private:
    std::string thing(const FaultCase& fault) const;

    const Design& design_;
    std::map<std::uint32_t, std::set<std::uint16_t>> elements_; // by part: those that can fail
    std::map<std::uint32_t, std::set<std::uint16_t>> main_;     // by part: what it is bought for
};

} // namespace trivet
