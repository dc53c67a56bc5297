#include "thermal/heat_balance.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace trivet {

namespace {

struct Place {
    std::uint32_t column = 0;
    std::uint32_t row = 0;
    friend auto operator<=>(const Place&, const Place&) = default;
};

std::vector<Place> matrix_places(const ThermalNetwork& network) {
    std::vector<Place> places;
    for (std::uint32_t body = 0; body < network.bodies.size(); ++body) places.push_back({body, body});
    for (const HeatLink& link : network.links) {
        if (link.to == room) continue;
        places.push_back({link.from, link.to});
        places.push_back({link.to, link.from});
    }
    std::ranges::sort(places);
    places.erase(std::unique(places.begin(), places.end()), places.end());
    return places;
}

std::size_t slot_of(const std::vector<Place>& places, Place place) {
    return static_cast<std::size_t>(std::ranges::lower_bound(places, place) - places.begin());
}

} // namespace

HeatBalance::HeatBalance(const ThermalNetwork& network, std::span<const double> on)
    : network_(network)
    , on_(on)
    , excess_(network.bodies.size())
    , conductance_(network.bodies.size())
    , flow_scale_(network.bodies.size()) {
    const std::vector<Place> places = matrix_places(network);
    std::vector<int> column_start(network.bodies.size() + 1, 0);
    std::vector<int> row;
    for (const Place& place : places) {
        ++column_start[place.column + 1];
        row.push_back(static_cast<int>(place.row));
    }
    for (std::size_t i = 1; i < column_start.size(); ++i) column_start[i] += column_start[i - 1];
    for (std::uint32_t body = 0; body < network.bodies.size(); ++body)
        diagonal_.push_back(slot_of(places, {body, body}));
    for (const HeatLink& link : network.links) {
        if (link.to == room) {
            slots_.push_back({diagonal_[link.from], 0, 0, 0});
        } else {
            slots_.push_back({diagonal_[link.from], slot_of(places, {link.to, link.from}),
                              slot_of(places, {link.from, link.to}), diagonal_[link.to]});
        }
    }
    matrix_.resize(places.size());
    lu_.analyse(std::move(column_start), std::move(row));
}

void HeatBalance::add_link(std::size_t index, const std::vector<double>& kelvin) {
    const HeatLink& link = network_.links[index];
    const auto& [from_from, from_to, to_from, to_to] = slots_[index];
    const double from = kelvin[link.from];
    const double to = link.to == room ? network_.ambient.si : kelvin[link.to];
    const Flow flow = heat_flow(link, {from}, {to});
    const double scale = flow.by_from.si * from - flow.by_to.si * to;
    excess_[link.from] += flow.power.si;
    matrix_[from_from] += flow.by_from.si;
    conductance_[link.from] += flow.by_from.si;
    flow_scale_[link.from] += scale;
    if (link.to == room) return;
    excess_[link.to] -= flow.power.si;
    matrix_[from_to] += flow.by_to.si;
    matrix_[to_from] -= flow.by_from.si;
    matrix_[to_to] -= flow.by_to.si;
    conductance_[link.to] -= flow.by_to.si;
    flow_scale_[link.to] += scale;
}

void HeatBalance::evaluate(const std::vector<double>& kelvin) {
    std::ranges::fill(excess_, 0.0);
    std::ranges::fill(matrix_, 0.0);
    std::ranges::fill(conductance_, 0.0);
    std::ranges::fill(flow_scale_, 0.0);
    power_ = 0.0;
    for (std::size_t i = 0; i < network_.links.size(); ++i) add_link(i, kelvin);
    for (std::size_t i = 0; i < network_.sources.size(); ++i) {
        const HeatSource& source = network_.sources[i];
        const SourcePower given = source_power(source, {kelvin[source.body]});
        excess_[source.body] -= on_[i] * given.power.si;
        matrix_[diagonal_[source.body]] -= on_[i] * given.by_temperature.si;
        power_ += on_[i] * given.power.si;
    }
}

double HeatBalance::squared_norm() const {
    double sum = 0.0;
    for (const double excess : excess_) sum += excess * excess;
    return sum;
}

bool HeatBalance::closes_to(double tolerance) const {
    constexpr double rounding = 4.0 * std::numeric_limits<double>::epsilon();
    for (std::size_t i = 0; i < excess_.size(); ++i)
        if (!(std::abs(excess_[i]) <= tolerance * power_ + rounding * flow_scale_[i])) return false;
    return true;
}

bool HeatBalance::newton_step(double shift, bool stable_only, std::vector<double>& step) {
    std::vector<double> shifted = matrix_;
    for (std::size_t i = 0; i < diagonal_.size(); ++i) shifted[diagonal_[i]] += shift * conductance_[i];
    if (!lu_.factor(shifted)) return false;
    if (stable_only) {
        // A matrix without positive entries off the diagonal has an inverse without negative ones (every answer to more
        // heat is warmer) exactly if it maps some positive vector to a positive one.
        std::vector<double> answer(excess_.size(), 1.0);
        if (!lu_.solve(answer) || !std::ranges::all_of(answer, [](double x) { return x > 0.0; })) return false;
    }
    step.resize(excess_.size());
    std::ranges::transform(excess_, step.begin(), [](double excess) { return -excess; });
    return lu_.solve(step);
}

} // namespace trivet
