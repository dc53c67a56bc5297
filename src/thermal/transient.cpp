#include "thermal/transient.h"

#include "thermal/span_of_time.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double usual_rise = 10.0; // K, that the tolerance refers to

// Lowest and highest of every component that is a temperature.
class Extremes {
public:
    Extremes(std::size_t components, double now, std::span<const double> state)
        : lowest_(state.begin(), state.begin() + static_cast<std::ptrdiff_t>(components))
        , highest_(lowest_)
        , highest_at_(components, now) {}

    void look_at(Stepper& stepper, const TimeSpan& piece) {
        const double third = (piece.to - piece.from) / 3.0;
        for (std::size_t i = 0; i < lowest_.size(); ++i) {
            note(i, piece.to, piece.last[i]);
            const double early = piece.first[i] + third * piece.first_rate[i];
            const double late = piece.last[i] - third * piece.last_rate[i];
            if (std::max(early, late) <= highest_[i] && std::min(early, late) >= lowest_[i]) continue;
            if (const auto turns = turning_time(piece, i)) note(i, *turns, stepper.at(*turns)[i]);
        }
    }

    double lowest(std::size_t component) const { return lowest_[component]; }
    double highest(std::size_t component) const { return highest_[component]; }
    double highest_at(std::size_t component) const { return highest_at_[component]; }

private:
    void note(std::size_t component, double time, double value) {
        lowest_[component] = std::min(lowest_[component], value);
        if (value <= highest_[component]) return;
        highest_[component] = value;
        highest_at_[component] = time;
    }

    std::vector<double> lowest_;
    std::vector<double> highest_;
    std::vector<double> highest_at_;
};

class Simulation {
public:
    Simulation(const ThermalNetwork& network, const RunSetup& setup);
    Run run();

private:
    bool step();
    void start_stepper();
    bool follow_piece();
    void end_piece_at(double time);
    bool act();
    bool tell();
    void record_at(double time, std::span<const double> state);
    void record_between(double from, double to);
    void finish();
    void finish_feelers();

    const RunSetup& setup_;
    HeatRates rates_;
    std::vector<double> start_;
    std::vector<double> state_;
    std::vector<double> rate_;
    std::vector<double> kelvin_;
    Stepper stepper_;
    Switchboard board_;
    std::vector<Watch> watches_;
    Extremes extremes_;
    TimeSpan piece_;
    Run run_;
    double now_ = 0.0;
    std::size_t most_steps_ = 0;
    std::size_t steps_in_phase_ = 0;
    bool stiff_ = false;
    bool implicit_ = false;
    bool restarts_ = true; // the stepper has to begin anew, as something switched
};

Simulation::Simulation(const ThermalNetwork& network, const RunSetup& setup)
    : setup_(setup)
    , rates_(network, setup)
    , start_(rates_.start())
    , state_(start_)
    , rate_(state_.size())
    , kelvin_(network.bodies.size())
    , stepper_(rates_, setup.tolerance * usual_rise)
    , board_(network, setup, rates_, state_)
    , extremes_(rates_.temperatures(), 0.0, state_) {
    constexpr std::size_t most_work = 20'000'000;
    constexpr std::size_t fewest_steps = 20'000;
    constexpr double many_explicit_steps = 3000.0;
    most_steps_ = std::max(fewest_steps, most_work / state_.size());
    const double settles_in = rates_.slowest() > 0.0 ? 1.0 / rates_.slowest() : setup.until.si;
    stiff_ = rates_.fastest() * std::min(setup.until.si, settles_in) > many_explicit_steps;
    piece_.last.resize(state_.size());
    piece_.last_rate.resize(state_.size());
    run_.first_off.resize(setup.controls.size());
}

Run Simulation::run() {
    for (std::uint32_t i = 0; i < setup_.controls.size(); ++i)
        if (!board_.is_on(i) && rates_.felt(i, state_) >= setup_.controls[i].off_above) run_.first_off[i] = Time{0.0};
    bool goes_on = act();
    if (setup_.record) record_at(now_, state_);
    while (goes_on && now_ < setup_.until.si) goes_on = step();
    finish();
    return std::move(run_);
}

// Begins with a step in which nothing changes much.
void Simulation::start_stepper() {
    double fastest = 0.0;
    for (const double rate : rate_) fastest = std::max(fastest, std::abs(rate));
    const double little = std::pow(setup_.tolerance * usual_rise, 0.2);
    const double left = setup_.until.si - now_;
    stepper_.start(state_, now_, fastest > 0.0 ? std::min(left, little / fastest) : left, implicit_);
    steps_in_phase_ = 0;
    restarts_ = false;
}

bool Simulation::step() {
    constexpr std::size_t most_explicit_steps = 150;
    const bool drags_on = !implicit_ && !restarts_ && steps_in_phase_ >= most_explicit_steps;
    if (restarts_ || drags_on) {
        implicit_ = stiff_ || drags_on;
        start_stepper();
    }
    if (run_.steps >= most_steps_ || !stepper_.advance()) return false;
    ++run_.steps;
    ++steps_in_phase_;
    const double end = std::min(stepper_.now(), setup_.until.si);
    while (now_ < end && !restarts_)
        if (!follow_piece()) return false;
    return true;
}

void Simulation::end_piece_at(double time) {
    piece_.to = time;
    std::ranges::copy(stepper_.at(time), piece_.last.begin());
    rates_.rates(piece_.last, piece_.last_rate);
}

// Up to the end of the step or whatever happens before. False: the run ends.
bool Simulation::follow_piece() {
    piece_.from = now_;
    piece_.first = state_;
    piece_.first_rate = rate_;
    end_piece_at(std::min({stepper_.now(), setup_.until.si, board_.next_due()}));
    for (const Watch& watch : watches_)
        if (const auto reached = first_reached(stepper_, piece_, watch)) end_piece_at(*reached);
    extremes_.look_at(stepper_, piece_);
    if (setup_.record) record_between(piece_.from, piece_.to);
    now_ = piece_.to;
    state_.swap(piece_.last);
    rate_.swap(piece_.last_rate);
    const bool goes_on = act();
    if (setup_.record) record_at(now_, state_);
    return tell() && goes_on;
}

// False: the run ends, with something that switches to and fro or with enough switchings.
bool Simulation::act() {
    const std::size_t before = run_.switchings.size();
    const bool settled = board_.act(now_, state_, run_.switchings);
    watches_ = board_.watches();
    if (run_.switchings.size() == before && !restarts_) return true;
    rates_.switch_sources(board_.sources_on());
    rates_.rates(state_, rate_);
    restarts_ = true;
    for (std::size_t i = before; i < run_.switchings.size(); ++i) {
        const Switching& switching = run_.switchings[i];
        if (switching.is_cutoff || switching.closes) continue;
        auto& first = run_.first_off[switching.which];
        if (!first) first = switching.at;
    }
    return settled && (run_.switchings.size() < setup_.most_switchings || run_.switchings.size() == before);
}

void Simulation::record_at(double time, std::span<const double> state) {
    run_.times.push_back({time});
    for (std::size_t i = 0; i < rates_.bodies(); ++i) run_.temperatures.push_back(rates_.temperature(i, state[i]));
}

// The multiples of the interval strictly between the two.
void Simulation::record_between(double from, double to) {
    const double every = setup_.record_every.si;
    if (every <= 0.0) return;
    for (double k = std::floor(from / every) + 1.0; k * every < to; k += 1.0)
        record_at(k * every, stepper_.at(k * every));
}

bool Simulation::tell() {
    if (!setup_.stop) return true;
    for (std::size_t i = 0; i < kelvin_.size(); ++i) kelvin_[i] = rates_.temperature(i, state_[i]).si;
    return !setup_.stop({now_}, kelvin_);
}

void Simulation::finish() {
    run_.ended = {now_};
    for (std::size_t i = 0; i < rates_.bodies(); ++i) {
        run_.highest.push_back(rates_.temperature(i, extremes_.highest(i)));
        run_.highest_at.push_back({extremes_.highest_at(i)});
        run_.lowest.push_back(rates_.temperature(i, extremes_.lowest(i)));
        run_.end.push_back(rates_.temperature(i, state_[i]));
        run_.stored = run_.stored + rates_.content(i, state_[i] - start_[i]);
    }
    for (std::size_t i = 0; i < setup_.controls.size(); ++i) {
        run_.on_end.push_back(board_.is_on(i));
        run_.supplied_by.push_back(rates_.supplied(i, state_));
        run_.supplied = run_.supplied + run_.supplied_by.back();
    }
    run_.supplied = run_.supplied + rates_.supplied(setup_.controls.size(), state_);
    run_.lost = rates_.lost(state_);
    finish_feelers();
}

void Simulation::finish_feelers() {
    for (std::size_t i = 0; i < setup_.controls.size() + setup_.cutoffs.size(); ++i) {
        run_.felt_end.push_back(rates_.felt(i, state_));
        const auto component = rates_.component(i);
        run_.felt_highest.push_back(component ? rates_.felt_at(i, extremes_.highest(*component)) : run_.felt_end[i]);
        run_.felt_lowest.push_back(component ? rates_.felt_at(i, extremes_.lowest(*component)) : run_.felt_end[i]);
    }
}

} // namespace

Run simulate(const ThermalNetwork& network, const RunSetup& setup) { return Simulation(network, setup).run(); }

} // namespace trivet
