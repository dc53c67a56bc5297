#include "thermal/switchboard.h"

#include <algorithm>
#include <limits>

namespace trivet {

namespace {

bool starts_on(const TwoPoint& control, Temperature felt) {
    return felt <= control.on_below || felt < control.on_below + 0.5 * (control.off_above - control.on_below);
}

} // namespace

Switchboard::Switchboard(const ThermalNetwork& network, const RunSetup& setup, const HeatRates& rates,
                         std::span<const double> state)
    : network_(network)
    , setup_(setup)
    , rates_(rates) {
    for (std::size_t i = 0; i < setup.controls.size(); ++i) {
        const TwoPoint& control = setup.controls[i];
        const bool on = setup.start_on.empty() ? starts_on(control, rates.felt(i, state)) : setup.start_on[i];
        controls_.push_back({on || control.stuck_on, {}});
    }
    cutoffs_.assign(setup.cutoffs.size(), {true, {}});
}

std::optional<Switchboard::Change> Switchboard::change_of_control(std::size_t control) const {
    const TwoPoint& setup = setup_.controls[control];
    if (setup.stuck_on) return std::nullopt;
    const bool on = controls_[control].on;
    return Change{control, on ? setup.off_above : setup.on_below, on};
}

std::optional<Switchboard::Change> Switchboard::change_of_cutoff(std::size_t cutoff) const {
    const Trip& setup = setup_.cutoffs[cutoff];
    const std::size_t feeler = setup_.controls.size() + cutoff;
    if (cutoffs_[cutoff].on) return Change{feeler, setup.opens, true};
    if (!setup.closes) return std::nullopt;
    return Change{feeler, *setup.closes, false};
}

bool Switchboard::is_reached(const Change& change, std::span<const double> state) const {
    const auto component = rates_.component(change.feeler);
    if (!component) {
        const Temperature felt = rates_.felt(change.feeler, state);
        return change.rising ? felt >= change.at : felt <= change.at;
    }
    const double level = rates_.level(change.feeler, change.at);
    return change.rising ? state[*component] >= level : state[*component] <= level;
}

bool Switchboard::act_once(double now, std::span<const double> state, std::vector<Switching>& record) {
    bool acted = false;
    const auto turn = [&](State& one, std::size_t which, bool is_cutoff) {
        one.on = !one.on;
        one.due.reset();
        record.push_back({{now}, static_cast<std::uint32_t>(which), is_cutoff, one.on});
        acted = true;
    };
    for (std::size_t i = 0; i < controls_.size(); ++i) {
        const auto change = change_of_control(i);
        State& control = controls_[i];
        if (!control.due && change && is_reached(*change, state)) control.due = now + setup_.controls[i].delay.si;
        if (control.due && *control.due <= now) turn(control, i, false);
    }
    for (std::size_t i = 0; i < cutoffs_.size(); ++i) {
        const auto change = change_of_cutoff(i);
        if (change && is_reached(*change, state)) turn(cutoffs_[i], i, true);
    }
    return acted;
}

bool Switchboard::act(double now, std::span<const double> state, std::vector<Switching>& record) {
    // What one thing feels does not change by what another does at the same time, so each acts once at most.
    if (!act_once(now, state, record)) return true;
    return !act_once(now, state, record);
}

std::vector<Watch> Switchboard::watches() const {
    std::vector<Watch> result;
    const auto add = [&](const std::optional<Change>& change) {
        if (!change) return;
        const auto component = rates_.component(change->feeler);
        if (component) result.push_back({*component, rates_.level(change->feeler, change->at), change->rising});
    };
    for (std::size_t i = 0; i < controls_.size(); ++i)
        if (!controls_[i].due) add(change_of_control(i));
    for (std::size_t i = 0; i < cutoffs_.size(); ++i) add(change_of_cutoff(i));
    return result;
}

double Switchboard::next_due() const {
    double next = std::numeric_limits<double>::infinity();
    for (const State& control : controls_)
        if (control.due) next = std::min(next, *control.due);
    return next;
}

std::vector<bool> Switchboard::sources_on() const {
    // What a run leaves out, because it is not the question there, stays closed.
    const auto is_on = [](const std::vector<State>& states, std::uint32_t which) {
        return which >= states.size() || states[which].on;
    };
    std::vector<bool> on;
    for (const HeatSource& source : network_.sources)
        on.push_back(
            (!source.control || is_on(controls_, *source.control)) &&
            std::ranges::all_of(source.cutoffs, [&](std::uint32_t cutoff) { return is_on(cutoffs_, cutoff); }));
    return on;
}

} // namespace trivet
