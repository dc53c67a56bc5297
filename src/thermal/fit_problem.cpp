#include "thermal/fit_problem.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

constexpr double near_room = 2.0; // K

double first_reading(const HeatLog& log, std::size_t column) {
    const std::size_t columns = log.bodies.size();
    for (std::size_t row = 0; row < log.times.size(); ++row) {
        const double kelvin = log.temperatures[row * columns + column].si;
        if (!std::isnan(kelvin)) return kelvin;
    }
    return std::nan("");
}

} // namespace

FitProblem::FitProblem(ThermalNetwork network, const std::vector<OpenParameter>& open, const HeatLog& log)
    : network_(std::move(network))
    , open_(open)
    , log_(log)
    , replay_(log) {
    const std::size_t columns = log.bodies.size();
    for (std::size_t row = 0; row < log.times.size(); ++row)
        for (std::uint32_t column = 0; column < columns; ++column) {
            const double kelvin = log.temperatures[row * columns + column].si;
            if (!std::isnan(kelvin)) readings_.push_back({row, column, kelvin});
        }
    const double air = log.ambient.empty() ? network_.ambient.si : log.ambient.front().si;
    start_.assign(network_.bodies.size(), air);
    bool all_cold = true;
    double sum = 0.0;
    for (std::size_t column = 0; column < columns; ++column) {
        const double kelvin = first_reading(log, column);
        if (std::isnan(kelvin)) continue;
        start_[log.bodies[column]] = kelvin;
        free_starts_.push_back(log.bodies[column]);
        all_cold = all_cold && std::abs(kelvin - air) < near_room;
        sum += kelvin;
    }
    if (all_cold || free_starts_.empty()) return;
    const double middle = sum / static_cast<double>(free_starts_.size());
    for (std::uint32_t body = 0; body < start_.size(); ++body)
        if (std::ranges::find(log.bodies, body) == log.bodies.end()) {
            start_[body] = middle;
            free_starts_.push_back(body);
        }
}

Eigen::VectorXd FitProblem::start_vector(const std::vector<double>& guesses) const {
    Eigen::VectorXd unknown(static_cast<Eigen::Index>(unknowns()));
    Eigen::Index i = 0;
    for (const double guess : guesses) unknown[i++] = std::log(guess);
    for (const std::uint32_t body : free_starts_) unknown[i++] = start_[body];
    return unknown;
}

void FitProblem::set_parameters(const std::vector<double>& values) {
    for (std::size_t i = 0; i < open_.size(); ++i) {
        if (open_[i].kind == OpenParameter::Kind::conductance)
            network_.links[open_[i].index].law = Conducts{{values[i]}};
        else
            network_.bodies[open_[i].index].capacity = {values[i]};
    }
}

std::optional<Eigen::VectorXd> FitProblem::residuals(const Eigen::VectorXd& unknown, bool again) {
    std::vector<double> values(open_.size());
    for (std::size_t i = 0; i < values.size(); ++i) values[i] = std::exp(unknown[static_cast<Eigen::Index>(i)]);
    set_parameters(values);
    std::vector<double> start = start_;
    for (std::size_t i = 0; i < free_starts_.size(); ++i)
        start[free_starts_[i]] = unknown[static_cast<Eigen::Index>(open_.size() + i)];
    const std::vector<double> computed = replay_.run(network_, start, again);
    if (computed.empty()) return std::nullopt;
    Eigen::VectorXd result(static_cast<Eigen::Index>(readings_.size()));
    Eigen::Index i = 0;
    for (const Reading& reading : readings_)
        result[i++] = reading.kelvin - computed[reading.row * network_.bodies.size() + log_.bodies[reading.column]];
    return result;
}

std::optional<Eigen::MatrixXd> FitProblem::derivatives(const Eigen::VectorXd& unknown,
                                                       const Eigen::VectorXd& residuals_there) {
    Eigen::MatrixXd result(residuals_there.size(), unknown.size());
    for (Eigen::Index i = 0; i < unknown.size(); ++i) {
        Eigen::VectorXd moved = unknown;
        const double by = step(static_cast<std::size_t>(i));
        moved[i] += by;
        const auto changed = residuals(moved, true);
        if (!changed) return std::nullopt;
        result.col(i) = (residuals_there - *changed) / by;
    }
    return result;
}

std::optional<Eigen::MatrixXd> FitProblem::central_derivatives(const Eigen::VectorXd& unknown) {
    Eigen::MatrixXd result(static_cast<Eigen::Index>(readings_.size()), unknown.size());
    for (Eigen::Index i = 0; i < unknown.size(); ++i) {
        Eigen::VectorXd moved = unknown;
        const double by = step(static_cast<std::size_t>(i));
        moved[i] = unknown[i] + by;
        const auto above = residuals(moved, true);
        moved[i] = unknown[i] - by;
        const auto below = residuals(moved, true);
        if (!above || !below) return std::nullopt;
        result.col(i) = (*below - *above) / (2.0 * by);
    }
    return result;
}

double FitProblem::autocorrelation(const Eigen::VectorXd& residuals_there) const {
    const std::size_t columns = log_.bodies.size();
    std::vector<std::optional<double>> last(columns);
    double products = 0.0;
    double squares = 0.0;
    for (std::size_t i = 0; i < readings_.size(); ++i) {
        auto& before = last[readings_[i].column];
        const double now = residuals_there[static_cast<Eigen::Index>(i)];
        if (before) products += *before * now;
        squares += now * now;
        before = now;
    }
    return squares > 0.0 ? std::clamp(products / squares, 0.0, 1.0) : 0.0;
}

} // namespace trivet
