#pragma once

#include "thermal/heat_case.h"

#include <span>

namespace trivet {

// What a fault does to the heat of a design.
struct HeatFault {
    struct Stuck {
        std::uint32_t source = 0;           // index into HeatInputs::parts: stays on whatever its control says
        double share = 1.0;                 // of its highest power
        std::vector<std::uint32_t> cutoffs; // that still end it: index into HeatInputs::cutoffs
        bool operator==(const Stuck&) const = default;
    };
    std::vector<Stuck> stuck;
    std::vector<std::uint32_t> cutoffs; // all that still work: index into HeatInputs::cutoffs
    std::optional<PartId> stopped_fan;
    bool operator==(const HeatFault&) const = default;
};

struct HeatOutcome {
    std::vector<Temperature> highest;    // [body], over heat that flows on after a cutoff has opened
    std::optional<std::uint32_t> opened; // the first cutoff that opens
    Time opened_at;                      // from the fault
    std::optional<HeatLimit> passed;     // the limit passed by most
    Temperature at_limit;                // how hot that place gets
    bool known = false;                  // false: numbers are missing, or a body has no way to lose its heat
};

// Plays faults through at the hot extreme of the normal situation, starting from average running: what is stuck gets
// full power, everything else runs on average, cutoffs open at their highest trip temperature. Equal faults are played
// once.
class HeatFaults {
public:
    HeatFaults(const Design& design, const HeatInputs& inputs, const HeatStudy& study);

    HeatOutcome outcome(const HeatFault& fault);
    bool can_tell() const { return can_tell_; }

private:
    HeatOutcome play(const HeatFault& fault) const;
    HeatOutcome play(const HeatFault& fault, HeatExtreme extreme) const;
    HeatCase running_in(const Situation& situation, HeatExtreme extreme) const;

    const Design& design_;
    const HeatInputs& inputs_;
    std::vector<HeatLimit> limits_;
    bool can_tell_ = false;
    std::vector<std::pair<HeatFault, HeatOutcome>> played_;
};

} // namespace trivet
