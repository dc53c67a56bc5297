#pragma once

#include "thermal/transient.h"

#include <span>
#include <vector>

namespace trivet {

// To be added to the derivative of a rate by a component.
struct JacobianTerm {
    std::uint32_t rate = 0;
    std::uint32_t component = 0;
    double value = 0.0;
};

// What a run integrates, as one vector. Everything is in kelvin, so that one tolerance fits all:
// [body] heat content above 0 °C over its capacity; [feeler with a lag] what it feels in °C; [control, then none]
// energy supplied to what it switches and, last, energy lost to the room, both over the capacity of all bodies.
class HeatRates {
public:
    HeatRates(const ThermalNetwork& network, const RunSetup& setup);

    std::size_t unknowns() const { return lost_ + 1; }
    std::size_t bodies() const { return network_.bodies.size(); }
    std::size_t temperatures() const { return first_supply_; } // components that are not energies
    std::vector<double> start() const;

    void switch_sources(std::vector<bool> on) { on_ = std::move(on); } // [source]
    void rates(std::span<const double> state, std::span<double> result);
    // Always the same terms in the same order; only their values change.
    void jacobian(std::span<const double> state, std::vector<JacobianTerm>& terms);

    // Per second: about the fastest rate in the network, and the rate at which the whole of it cools.
    double fastest() const { return fastest_; }
    double slowest() const { return slowest_; }

    // Feelers are numbered: controls, then cutoffs. Some feel the air of the room at once: they have no component.
    std::optional<std::size_t> component(std::size_t feeler) const { return senses_[feeler].component; }
    double level(std::size_t feeler, Temperature temperature) const; // in the unit of its component
    Temperature felt(std::size_t feeler, std::span<const double> state) const;
    Temperature felt_at(std::size_t feeler, double component) const;
    Temperature temperature(std::size_t body, double component) const;
    Energy content(std::size_t body, double component) const { return {component * network_.bodies[body].capacity.si}; }

    Energy supplied(std::size_t control, std::span<const double> state) const; // number of controls: by none
    Energy lost(std::span<const double> state) const { return {state[lost_] * all_capacity_}; }

private:
    struct Sense {
        Feeler feeler;
        std::optional<std::size_t> component;
        bool late = false;
    };

    void take(std::span<const double> state);
    void estimate_speed();
    double of_body(std::uint32_t body) const { return body == room ? network_.ambient.si : kelvin_[body]; }
    std::size_t supply_of(const HeatSource& source) const;

    const ThermalNetwork& network_;
    const RunSetup& setup_;
    std::vector<Sense> senses_;
    std::vector<bool> on_;
    std::vector<double> kelvin_;
    std::vector<double> slope_; // of the temperature by the component; below 1 while something melts
    std::size_t first_supply_ = 0;
    std::size_t lost_ = 0;
    double all_capacity_ = 0.0;
    double fastest_ = 0.0;
    double slowest_ = 0.0;
};

} // namespace trivet
