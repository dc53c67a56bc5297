#include "thermal/rates.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double shortest_lag = 1e-3; // s

} // namespace

HeatRates::HeatRates(const ThermalNetwork& network, const RunSetup& setup)
    : network_(network)
    , setup_(setup)
    , on_(network.sources.size(), false)
    , kelvin_(network.bodies.size())
    , slope_(network.bodies.size(), 1.0) {
    std::size_t next = network.bodies.size();
    const auto add = [&](const Feeler& feeler) {
        Sense sense{feeler, std::nullopt, feeler.lag.si >= shortest_lag};
        if (sense.late) {
            sense.component = next++;
        } else if (feeler.body != room) {
            sense.component = feeler.body;
        }
        senses_.push_back(sense);
    };
    for (const TwoPoint& control : setup.controls) add(control.feels);
    for (const Trip& cutoff : setup.cutoffs) add(cutoff.feels);
    first_supply_ = next;
    lost_ = first_supply_ + setup.controls.size() + 1;
    for (const ThermalBody& body : network.bodies) all_capacity_ += body.capacity.si;
    estimate_speed();
}

std::vector<double> HeatRates::start() const {
    std::vector<double> state(unknowns(), 0.0);
    const auto of = [&](std::uint32_t body) {
        return body == room || setup_.start.empty() ? network_.ambient : setup_.start[body];
    };
    for (std::uint32_t i = 0; i < bodies(); ++i) {
        const ThermalBody& body = network_.bodies[i];
        state[i] = heat_content(body, of(i)).si / body.capacity.si;
    }
    for (std::size_t i = 0; i < senses_.size(); ++i)
        if (senses_[i].late)
            state[*senses_[i].component] =
                in_celsius(setup_.felt.empty() ? of(senses_[i].feeler.body) : setup_.felt[i]);
    return state;
}

// Of surfaces at what they give when 30 K warmer than where they look.
void HeatRates::estimate_speed() {
    constexpr TemperatureDifference warmer{30.0};
    std::vector<double> conductance(bodies(), 0.0);
    double to_room = 0.0;
    const auto start_of = [&](std::uint32_t body) {
        return body == room || setup_.start.empty() ? network_.ambient : setup_.start[body];
    };
    for (const HeatLink& link : network_.links) {
        const Temperature there = start_of(link.to);
        const double by_kelvin = heat_flow(link, there + warmer, there).by_from.si;
        conductance[link.from] += by_kelvin;
        (link.to == room ? to_room : conductance[link.to]) += by_kelvin;
    }
    for (std::size_t i = 0; i < bodies(); ++i)
        fastest_ = std::max(fastest_, conductance[i] / network_.bodies[i].capacity.si);
    for (const Sense& sense : senses_)
        if (sense.late) fastest_ = std::max(fastest_, 1.0 / sense.feeler.lag.si);
    if (all_capacity_ > 0.0) slowest_ = to_room / all_capacity_;
}

std::size_t HeatRates::supply_of(const HeatSource& source) const {
    const std::size_t none = setup_.controls.size();
    return first_supply_ + (source.control ? std::min<std::size_t>(*source.control, none) : none);
}

void HeatRates::take(std::span<const double> state) {
    for (std::size_t i = 0; i < bodies(); ++i) {
        const ThermalBody& body = network_.bodies[i];
        kelvin_[i] = temperature(i, state[i]).si;
        if (!body.melting) continue;
        const Melting& melting = *body.melting;
        const bool melts = kelvin_[i] > melting.from.si && kelvin_[i] < melting.to.si;
        const double over = (melting.to.si - melting.from.si) * body.capacity.si;
        slope_[i] = melts ? over / (over + melting.energy.si) : 1.0;
    }
}

void HeatRates::rates(std::span<const double> state, std::span<double> result) {
    take(state);
    std::ranges::fill(result, 0.0);
    for (const HeatLink& link : network_.links) {
        const double power = heat_flow(link, {kelvin_[link.from]}, {of_body(link.to)}).power.si;
        result[link.from] -= power;
        result[link.to == room ? lost_ : link.to] += power;
    }
    for (std::size_t i = 0; i < on_.size(); ++i) {
        if (!on_[i]) continue;
        const HeatSource& source = network_.sources[i];
        const double power = source_power(source, {kelvin_[source.body]}).power.si;
        result[source.body] += power;
        result[supply_of(source)] += power;
    }
    for (std::size_t i = 0; i < bodies(); ++i) result[i] /= network_.bodies[i].capacity.si;
    for (const Sense& sense : senses_)
        if (sense.late)
            result[*sense.component] =
                (in_celsius({of_body(sense.feeler.body)}) - state[*sense.component]) / sense.feeler.lag.si;
    for (std::size_t i = first_supply_; i <= lost_; ++i) result[i] /= all_capacity_;
}

void HeatRates::jacobian(std::span<const double> state, std::vector<JacobianTerm>& terms) {
    take(state);
    terms.clear();
    const auto add = [&](std::size_t rate, std::uint32_t body, double by_kelvin) {
        const double capacity = rate < bodies() ? network_.bodies[rate].capacity.si : all_capacity_;
        terms.push_back({static_cast<std::uint32_t>(rate), body, by_kelvin * slope_[body] / capacity});
    };
    for (const HeatLink& link : network_.links) {
        const Flow flow = heat_flow(link, {kelvin_[link.from]}, {of_body(link.to)});
        const std::size_t to = link.to == room ? lost_ : link.to;
        add(link.from, link.from, -flow.by_from.si);
        add(to, link.from, flow.by_from.si);
        if (link.to == room) continue;
        add(link.from, link.to, -flow.by_to.si);
        add(to, link.to, flow.by_to.si);
    }
    for (std::size_t i = 0; i < on_.size(); ++i) {
        const HeatSource& source = network_.sources[i];
        const double by_kelvin = on_[i] ? source_power(source, {kelvin_[source.body]}).by_temperature.si : 0.0;
        add(source.body, source.body, by_kelvin);
        add(supply_of(source), source.body, by_kelvin);
    }
    for (const Sense& sense : senses_) {
        if (!sense.late) continue;
        const auto felt = static_cast<std::uint32_t>(*sense.component);
        const std::uint32_t body = sense.feeler.body;
        terms.push_back({felt, felt, -1.0 / sense.feeler.lag.si});
        if (body != room) terms.push_back({felt, body, slope_[body] / sense.feeler.lag.si});
    }
}

double HeatRates::level(std::size_t feeler, Temperature temperature) const {
    const Sense& sense = senses_[feeler];
    if (sense.late || !sense.component) return in_celsius(temperature);
    const ThermalBody& body = network_.bodies[*sense.component];
    return heat_content(body, temperature).si / body.capacity.si;
}

Temperature HeatRates::felt(std::size_t feeler, std::span<const double> state) const {
    const auto component = senses_[feeler].component;
    return component ? felt_at(feeler, state[*component]) : network_.ambient;
}

Temperature HeatRates::felt_at(std::size_t feeler, double component) const {
    const Sense& sense = senses_[feeler];
    return sense.late ? celsius(component) : temperature(*sense.component, component);
}

Temperature HeatRates::temperature(std::size_t body, double component) const {
    const ThermalBody& lump = network_.bodies[body];
    return lump.melting ? temperature_at(lump, {component * lump.capacity.si}) : celsius(component);
}

Energy HeatRates::supplied(std::size_t control, std::span<const double> state) const {
    return {state[first_supply_ + control] * all_capacity_};
}

} // namespace trivet
