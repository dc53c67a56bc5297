#include "electrical/envelope.h"

#include "electrical/state_envelope.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double on_share = 0.5; // of the highest voltage over all states: from there on an element counts as on

// Collects what the states of one island found into the envelope of the whole circuit.
class Collector {
public:
    Collector(std::size_t branches, Envelope& envelope)
        : envelope_(envelope)
        , own_of_branch_(branches, nowhere) {}

    void add(const Island& island, const std::vector<StateExtremes>& found, std::size_t states,
             const std::vector<std::uint32_t>& probes, std::span<const ProbeOf> all_probes) {
        island_ = &island;
        found_ = &found;
        states_ = states;
        corner_of_.resize(std::max(corner_of_.size(), states));
        for (std::size_t s = 0; s < states; ++s) {
            corner_of_[s].assign(found[s].corners.count() + 1, nowhere);
            envelope_.solutions += found[s].solutions;
            envelope_.is_bound = envelope_.is_bound || found[s].is_bound;
            envelope_.worst_kirchhoff_residual =
                std::max(envelope_.worst_kirchhoff_residual, found[s].kirchhoff_residual);
        }
        for (std::uint32_t i = 0; i < island.branch_of.size(); ++i) own_of_branch_[island.branch_of[i].value] = i;
        find_on();
        for (std::uint32_t i = 0; i < island.branches.size(); ++i) add_branch(i);
        for (std::uint32_t i = 0; i < probes.size(); ++i) {
            const auto while_on = all_probes[probes[i]].while_on;
            const std::uint32_t own = while_on ? own_number(*while_on) : nowhere;
            merge(envelope_.probe[probes[i]], [&](const StateExtremes& state) -> const LowHigh* {
                return own == nowhere || is_on(state, own) ? &state.probe[i] : nullptr;
            });
        }
        for (std::uint32_t s = 0; s < states; ++s)
            for (const StateExtremes::Collapsed& collapsed : found[s].collapses)
                envelope_.collapses.push_back({collapsed.why, found[s].state, corner(s, collapsed.corner)});
    }

private:
    // Asked for branches of this island only: what was noted for earlier islands does not matter.
    std::uint32_t own_number(BranchId id) const {
        const std::uint32_t own = own_of_branch_[id.value];
        return own < island_->branch_of.size() && island_->branch_of[own] == id ? own : nowhere;
    }

    void find_on() {
        most_.assign(island_->branches.size(), 0.0);
        for (std::size_t s = 0; s < states_; ++s)
            for (std::size_t i = 0; i < most_.size(); ++i)
                most_[i] = std::max(most_[i], usual_voltage((*found_)[s], i));
    }
    static double usual_voltage(const StateExtremes& state, std::size_t own) {
        const LowHigh& span = state.voltage[own];
        const double middle = std::abs(state.middle_voltage[own]);
        // Without a solution in the middle, what any corner shows has to do.
        return state.middle_solved || !span.highest.taken
                   ? middle
                   : std::max(std::abs(span.highest.value), std::abs(span.lowest.value));
    }
    bool is_on(const StateExtremes& state, std::uint32_t own) const {
        return most_[own] > 0.0 && usual_voltage(state, own) >= on_share * most_[own];
    }

    void add_branch(std::uint32_t own) {
        const std::uint32_t id = island_->branch_of[own].value;
        const BranchKind kind = island_->branches[own].kind;
        using Found = StateExtremes;
        merge(envelope_.current[id], [&](const Found& state) { return &state.current[own]; });
        merge(envelope_.voltage[id], [&](const Found& state) { return &state.voltage[own]; });
        merge(envelope_.start_current[id], [&](const Found& state) { return &state.start_current[own]; });
        merge(envelope_.voltage_on[id],
              [&](const Found& state) { return is_on(state, own) ? &state.voltage[own] : nullptr; });
        if (kind == BranchKind::contact || kind == BranchKind::transistor)
            merge(envelope_.voltage_open[id],
                  [&](const Found& state) { return state.closed[own] == 0 ? &state.voltage[own] : nullptr; });
        if (kind != BranchKind::converter) return;
        merge(envelope_.output_current[id], [&](const Found& state) { return &state.output_current[own]; });
        merge(envelope_.output_voltage[id], [&](const Found& state) { return &state.output_voltage[own]; });
    }

    template <class Of> void merge(Span& span, Of of) {
        std::uint32_t lowest = nowhere;
        std::uint32_t highest = nowhere;
        for (std::uint32_t s = 0; s < states_; ++s) {
            const LowHigh* now = of((*found_)[s]);
            if (now == nullptr || !now->lowest.taken) continue;
            if (lowest == nowhere || now->lowest.value < of((*found_)[lowest])->lowest.value) lowest = s;
            if (highest == nowhere || now->highest.value > of((*found_)[highest])->highest.value) highest = s;
        }
        if (lowest == nowhere) return;
        span.lowest = extreme(lowest, of((*found_)[lowest])->lowest);
        span.highest = extreme(highest, of((*found_)[highest])->highest);
    }

    Extreme extreme(std::uint32_t s, const Best& best) {
        return {best.value, (*found_)[s].state, corner(s, best.corner)};
    }

    // Only corners that some extreme refers to are kept.
    std::uint32_t corner(std::uint32_t s, std::uint32_t local) {
        const Corners& corners = (*found_)[s].corners;
        std::uint32_t& known = corner_of_[s][local == any_corner ? corners.count() : local];
        if (known != nowhere) return known;
        known = static_cast<std::uint32_t>(envelope_.corners.size());
        CornerChoice& choice = envelope_.corners.emplace_back();
        choice.island = island_->id;
        if (local == any_corner) return known;
        for (std::size_t i = 0; i < island_->ranged.size(); ++i) {
            choice.parameters.push_back(island_->parameter_of[island_->ranged[i]]);
            choice.high.push_back(corners.high(local, i));
            choice.weight.push_back(corners.weight(local, i));
        }
        return known;
    }

    Envelope& envelope_;
    const Island* island_ = nullptr;
    const std::vector<StateExtremes>* found_ = nullptr;
    std::size_t states_ = 0;
    std::vector<std::uint32_t> own_of_branch_; // [branch of the circuit]
    std::vector<double> most_;                 // [own branch]: highest voltage at middle values over all states
    std::vector<std::vector<std::uint32_t>> corner_of_; // [state][corner of the state]: in the envelope
};

std::vector<std::vector<std::uint32_t>> probes_by_island(const Circuit& circuit, std::span<const ProbeOf> probes) {
    std::vector<std::vector<std::uint32_t>> of_island(circuit.island_count);
    for (std::uint32_t i = 0; i < probes.size(); ++i) of_island[probes[i].island.value].push_back(i);
    return of_island;
}

// Nodes of other islands have no common voltage with this one and count as 0 V.
std::vector<ProbeTerms> own_terms(const NodeNumbers& numbers, std::span<const ProbeOf> all,
                                  const std::vector<std::uint32_t>& of_island) {
    std::vector<ProbeTerms> own;
    for (const std::uint32_t index : of_island) {
        ProbeTerms& terms = own.emplace_back();
        for (const auto& [node, factor] : all[index].probe.terms)
            if (numbers.of(node) != nowhere) terms.push_back({numbers.of(node), factor});
    }
    return own;
}

} // namespace

Envelope operating_envelope(const Circuit& circuit, const StateSet& states, std::span<const ProbeOf> probes,
                            std::size_t grouped_above) {
    Envelope envelope;
    for (auto* of_branch : {&envelope.current, &envelope.voltage, &envelope.voltage_on, &envelope.voltage_open,
                            &envelope.output_current, &envelope.output_voltage, &envelope.start_current})
        of_branch->resize(circuit.branches.size());
    envelope.probe.resize(probes.size());
    const auto probes_of = probes_by_island(circuit, probes);
    NodeNumbers numbers(circuit);
    StateSearch search;
    std::vector<StateExtremes> found;
    Collector collector(circuit.branches.size(), envelope);
    for (std::uint32_t i = 0; i < circuit.island_count; ++i) {
        if (circuit.branches_of_island[i].empty() || states.of_island[i].empty()) continue;
        const Island island = numbers.make(circuit, {i});
        const std::vector<ProbeTerms> terms = own_terms(numbers, probes, probes_of[i]);
        const std::vector<std::uint32_t>& of_island = states.of_island[i];
        found.resize(std::max(found.size(), of_island.size()));
        for (std::size_t s = 0; s < of_island.size(); ++s) {
            found[s].state = of_island[s];
            search.run(circuit, island, states.states[of_island[s]], terms, grouped_above, found[s]);
        }
        collector.add(island, found, of_island.size(), probes_of[i], probes);
    }
    return envelope;
}

} // namespace trivet
