#pragma once

#include "thermal/rates.h"

namespace trivet {

// A component that may reach a level, at which something happens.
struct Watch {
    std::size_t component = 0;
    double level = 0.0;
    bool rising = false;
};

// What all controls and cutoffs of a run are doing.
class Switchboard {
public:
    Switchboard(const ThermalNetwork& network, const RunSetup& setup, const HeatRates& rates,
                std::span<const double> state);

    // Lets everything act that has reached its level or whose delay is over, and adds it to the record. False:
    // something switches back at once, which would go on for ever.
    bool act(double now, std::span<const double> state, std::vector<Switching>& record);

    std::vector<Watch> watches() const; // what may happen next
    double next_due() const;            // when the next delay is over; infinite: none runs
    bool is_on(std::size_t control) const { return controls_[control].on; }
    std::vector<bool> sources_on() const;

private:
    struct State {
        bool on = false; // a control heats; a cutoff is closed
        std::optional<double> due;
    };
    struct Change {
        std::size_t feeler = 0;
        Temperature at;
        bool rising = false; // acts at or above that temperature; false: at or below
    };

    std::optional<Change> change_of_control(std::size_t control) const;
    std::optional<Change> change_of_cutoff(std::size_t cutoff) const;
    bool is_reached(const Change& change, std::span<const double> state) const;
    bool act_once(double now, std::span<const double> state, std::vector<Switching>& record);

    const ThermalNetwork& network_;
    const RunSetup& setup_;
    const HeatRates& rates_;
    std::vector<State> controls_;
    std::vector<State> cutoffs_;
};

} // namespace trivet
