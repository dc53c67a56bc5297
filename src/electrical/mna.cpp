#include "electrical/mna.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double unloaded_share = 1e-3;       // of the meant current, for the first guess
constexpr double output_resistance = 1e-6;    // ohm, of a converter: two in parallel stay solvable
constexpr double kirchhoff_tolerance = 1e-11; // of the largest current at the node
constexpr double nothing_beside = 1e-9;       // of the largest current: what is less counts as no current
constexpr double current_tolerance = 1e-10;
constexpr double current_noise = 1e-14; // A
constexpr double voltage_tolerance = 1e-11;
constexpr double voltage_noise = 1e-13; // V

} // namespace

double Equations::voltage(const Iterate& iterate, std::uint32_t node) const {
    const std::uint32_t unknown = network_->junction[node];
    return unknown == nowhere ? 0.0 : iterate.x[unknown];
}

double Equations::across(const Iterate& iterate, std::uint32_t edge) const {
    return voltage(iterate, network_->edges[edge].from) - voltage(iterate, network_->edges[edge].to);
}

void Equations::place(std::vector<std::pair<std::uint64_t, int*>>& entries) {
    std::ranges::sort(entries, {}, [](const auto& entry) { return entry.first; });
    const std::size_t n = network_->unknowns();
    column_start_.assign(n + 1, 0);
    row_.clear();
    std::uint64_t last = ~std::uint64_t{0};
    for (const auto& [key, slot] : entries) {
        if (key != last) {
            row_.push_back(static_cast<int>(key % n));
            ++column_start_[key / n + 1];
            last = key;
        }
        *slot = static_cast<int>(row_.size()) - 1;
    }
    for (std::size_t i = 0; i < n; ++i) column_start_[i + 1] += column_start_[i];
}

void Equations::build(const Island& island, const Network& network) {
    island_ = &island;
    network_ = &network;
    const std::size_t n = network.unknowns();
    slots_.assign(network.edges.size(), {-1, -1, -1, -1, -1});
    kirchhoff_.assign(network.edges.size(), {-1, -1});
    std::vector<std::pair<std::uint64_t, int*>> entries;
    entries.reserve(network.edges.size() * 6);
    const auto enter = [&](std::uint32_t row, std::uint32_t column, int& slot) {
        if (row != nowhere && column != nowhere) entries.push_back({std::uint64_t{column} * n + row, &slot});
    };
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
        const Edge& edge = network.edges[e];
        const std::uint32_t row = current(e);
        Slots& slots = slots_[e];
        enter(row, row, slots.current);
        if (edge.from != edge.to) {
            enter(network.junction[edge.from], row, kirchhoff_[e][0]);
            enter(network.junction[edge.to], row, kirchhoff_[e][1]);
            enter(row, network.junction[edge.from], slots.from);
            enter(row, network.junction[edge.to], slots.to);
        }
        if (edge.partner == nowhere) continue;
        if (edge.law == EdgeLaw::input) enter(row, current(edge.partner), slots.partner_from);
        if (edge.law == EdgeLaw::output) {
            enter(row, network.junction[network.edges[edge.partner].from], slots.partner_from);
            enter(row, network.junction[network.edges[edge.partner].to], slots.partner_to);
        }
    }
    place(entries);
    base_.assign(row_.size(), 0.0);
    matrix_ = base_;
    for (const auto& [from, to] : kirchhoff_) {
        add(from, 1.0);
        add(to, -1.0);
    }
    base_ = matrix_;
    residual_.assign(n, 0.0);
    local_.assign(network.junctions, 0.0);
    live_sum_.assign(network.junctions, 0.0);
    kirchhoff_residual_ = 0.0;
}

void Equations::assemble(const Iterate& iterate, const Conditions& conditions) {
    matrix_ = base_;
    std::ranges::fill(residual_, 0.0);
    within_tolerance_ = true;
    apply_kirchhoff(iterate);
    for (std::uint32_t e = 0; e < network_->edges.size(); ++e) {
        switch (network_->edges[e].law) {
        case EdgeLaw::series:
            assemble_series(e, iterate, conditions);
            break;
        case EdgeLaw::shunt:
            assemble_shunt(e, iterate, conditions);
            break;
        case EdgeLaw::input:
            assemble_input(e, iterate, conditions);
            break;
        case EdgeLaw::output:
            assemble_output(e, iterate, conditions);
            break;
        }
    }
}

// What flows in dead edges is rounding: it is solved for, but not judged.
void Equations::apply_kirchhoff(const Iterate& iterate) {
    std::ranges::fill(local_, 0.0);
    std::ranges::fill(live_sum_, 0.0);
    double largest = 0.0;
    for (std::uint32_t e = 0; e < network_->edges.size(); ++e) {
        const Edge& edge = network_->edges[e];
        const double amperes = iterate.x[current(e)];
        const double live = edge.dead ? 0.0 : amperes;
        largest = std::max(largest, std::abs(live));
        if (const std::uint32_t from = network_->junction[edge.from]; from != nowhere) {
            residual_[from] += amperes;
            live_sum_[from] += live;
            local_[from] = std::max(local_[from], std::abs(live));
        }
        if (const std::uint32_t to = network_->junction[edge.to]; to != nowhere) {
            residual_[to] -= amperes;
            live_sum_[to] -= live;
            local_[to] = std::max(local_[to], std::abs(live));
        }
    }
    kirchhoff_residual_ = 0.0;
    for (std::uint32_t i = 0; i < network_->junctions; ++i)
        if (live_sum_[i] != 0.0)
            kirchhoff_residual_ =
                std::max(kirchhoff_residual_, std::abs(live_sum_[i]) / std::max(local_[i], nothing_beside * largest));
    require(kirchhoff_residual_, kirchhoff_tolerance);
}

void Equations::assemble_series(std::uint32_t e, const Iterate& iterate, const Conditions& conditions) {
    const Edge& edge = network_->edges[e];
    const double amperes = iterate.x[current(e)];
    const double at = edge.linear ? amperes : iterate.at[e];
    double lost = 0.0;
    double slope = 0.0;
    double size = 0.0;
    for (std::uint32_t i = 0; i < edge.links; ++i) {
        const Link& link = network_->links[edge.first_link + i];
        const Law law = drop(island_->branches[link.branch], conditions.values, link.sign * at, conditions.starting);
        lost += link.sign * law.value;
        slope += law.slope;
        size += std::abs(law.value) + std::abs(law.slope * at);
    }
    if (at != amperes) {
        lost += slope * (amperes - at);
        within_tolerance_ = false;
    }
    add(slots_[e].from, 1.0);
    add(slots_[e].to, -1.0);
    add(slots_[e].current, -slope);
    double& residual = residual_[current(e)];
    residual = across(iterate, e) - lost;
    require(residual, voltage_tolerance * size + voltage_noise);
}

// Row: current - value - slope * (v - v_at) = 0; `shortfall` is v - v_at.
void Equations::draw(std::uint32_t e, double value, double slope, double amperes, double shortfall) {
    add(slots_[e].current, 1.0);
    add(slots_[e].from, -slope);
    add(slots_[e].to, slope);
    double& residual = residual_[current(e)];
    residual = amperes - value - slope * shortfall;
    require(residual, current_tolerance * std::abs(amperes) + current_noise);
    if (shortfall != 0.0) within_tolerance_ = false;
}

void Equations::assemble_shunt(std::uint32_t e, const Iterate& iterate, const Conditions& conditions) {
    const Edge& edge = network_->edges[e];
    const double volts = across(iterate, e);
    const double amperes = iterate.x[current(e)];
    if (edge.dead) return draw(e, volts, 1.0, amperes, 0.0);
    if (conditions.removed == e) return draw(e, 0.0, 0.0, amperes, 0.0);
    const IslandBranch& branch = island_->branches[network_->links[edge.first_link].branch];
    if (conditions.unloaded && branch.kind == BranchKind::load) {
        const double meant = drawn(branch, conditions.values, branch.nominal, conditions.starting, false).value;
        const double share = std::max(meant / branch.nominal * unloaded_share, 1e-12);
        return draw(e, volts * share, share, amperes, 0.0);
    }
    const double at = iterate.at[e];
    const Law law = drawn(branch, conditions.values, at, conditions.starting, iterate.collapsed[e] != 0);
    draw(e, law.value, law.slope, amperes, volts - at);
}

void Equations::assemble_input(std::uint32_t e, const Iterate& iterate, const Conditions& conditions) {
    const Edge& edge = network_->edges[e];
    const double volts = across(iterate, e);
    const double amperes = iterate.x[current(e)];
    if (edge.dead) return draw(e, volts, 1.0, amperes, 0.0);
    if (conditions.removed == e || conditions.unloaded) return draw(e, 0.0, 0.0, amperes, 0.0);
    const IslandBranch& branch = island_->branches[network_->links[edge.first_link].branch];
    const double delivered = edge.partner == nowhere ? 0.0 : iterate.x[current(edge.partner)];
    const ConverterLaw law = convert(branch, conditions.values, volts, delivered, iterate.collapsed[e] != 0);
    draw(e, law.input.value, law.input.slope, amperes, 0.0);
    add(slots_[e].partner_from, -law.input_by_output);
}

void Equations::assemble_output(std::uint32_t e, const Iterate& iterate, const Conditions& conditions) {
    const Edge& edge = network_->edges[e];
    const IslandBranch& branch = island_->branches[network_->links[edge.first_link].branch];
    const double amperes = iterate.x[current(e)];
    const bool fed = edge.partner != nowhere;
    Law output{conditions.values[branch.first_parameter], 0.0};
    if (!(fed && (conditions.removed == edge.partner || conditions.unloaded))) {
        const double input = fed ? across(iterate, edge.partner) : 0.0;
        const bool collapsed = fed && iterate.collapsed[edge.partner] != 0;
        output = convert(branch, conditions.values, input, amperes, collapsed).output;
    }
    add(slots_[e].from, -1.0);
    add(slots_[e].to, 1.0);
    add(slots_[e].current, output_resistance);
    add(slots_[e].partner_from, -output.slope);
    add(slots_[e].partner_to, output.slope);
    double& residual = residual_[current(e)];
    residual = -across(iterate, e) - output.value + output_resistance * amperes;
    require(residual, voltage_tolerance * std::abs(output.value) + voltage_noise);
}

} // namespace trivet
