#include "thermal/rosenbrock.h"

#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

using Places = std::vector<std::pair<std::uint32_t, std::uint32_t>>; // column, row

// Boost.Odeint's own stepper with these numbers needs a matrix library that does not compile as C++20.
struct Coefficients {
    boost::numeric::odeint::default_rosenbrock_coefficients<double> rodas;
    double gamma = rodas.gamma;
    std::array<double, 1> shift_2{rodas.a21};
    std::array<double, 2> shift_3{rodas.a31, rodas.a32};
    std::array<double, 3> shift_4{rodas.a41, rodas.a42, rodas.a43};
    std::array<double, 4> shift_5{rodas.a51, rodas.a52, rodas.a53, rodas.a54};
    std::array<double, 1> weigh_2{rodas.c21};
    std::array<double, 2> weigh_3{rodas.c31, rodas.c32};
    std::array<double, 3> weigh_4{rodas.c41, rodas.c42, rodas.c43};
    std::array<double, 4> weigh_5{rodas.c51, rodas.c52, rodas.c53, rodas.c54};
    std::array<double, 5> weigh_6{rodas.c61, rodas.c62, rodas.c63, rodas.c64, rodas.c65};
    std::array<double, 5> third{rodas.d21, rodas.d22, rodas.d23, rodas.d24, rodas.d25};
    std::array<double, 5> fourth{rodas.d31, rodas.d32, rodas.d33, rodas.d34, rodas.d35};
};

const Coefficients& coefficients() {
    static const Coefficients numbers;
    return numbers;
}

std::size_t slot_of(const Places& places, std::uint32_t rate, std::uint32_t component) {
    const auto found = std::ranges::lower_bound(places, std::pair{component, rate});
    return static_cast<std::size_t>(found - places.begin());
}

double weighted(const std::vector<std::vector<double>>& parts, std::span<const double> weights, std::size_t i) {
    double sum = 0.0;
    for (std::size_t k = 0; k < weights.size(); ++k) sum += weights[k] * parts[k][i];
    return sum;
}

} // namespace

Rosenbrock::Rosenbrock(HeatRates& rates, double tolerance)
    : rates_(rates)
    , tolerance_(tolerance)
    , parts_(5, std::vector<double>(rates.unknowns())) {
    const std::size_t size = rates.unknowns();
    for (auto* vector : {&state_, &next_, &rate_, &error_, &third_, &fourth_, &answer_}) vector->resize(size);
    rates_.jacobian(rates_.start(), terms_);
    Places places;
    for (std::uint32_t i = 0; i < size; ++i) places.push_back({i, i});
    for (const JacobianTerm& term : terms_) places.push_back({term.component, term.rate});
    std::ranges::sort(places);
    places.erase(std::unique(places.begin(), places.end()), places.end());
    for (const JacobianTerm& term : terms_) slots_.push_back(slot_of(places, term.rate, term.component));
    for (std::uint32_t i = 0; i < size; ++i) diagonal_.push_back(slot_of(places, i, i));
    std::vector<int> column_start(size + 1, 0);
    std::vector<int> row;
    for (const auto& [column, row_number] : places) {
        ++column_start[column + 1];
        row.push_back(static_cast<int>(row_number));
    }
    for (std::size_t i = 1; i <= size; ++i) column_start[i] += column_start[i - 1];
    matrix_.resize(places.size());
    lu_.analyse(std::move(column_start), std::move(row));
}

void Rosenbrock::start(std::span<const double> state, double time, double step) {
    std::ranges::copy(state, next_.begin());
    before_ = now_ = time;
    step_ = step;
    last_step_ = 0.0;
}

bool Rosenbrock::factor(double step) {
    std::ranges::fill(matrix_, 0.0);
    for (std::size_t i = 0; i < terms_.size(); ++i) matrix_[slots_[i]] -= terms_[i].value;
    for (const std::size_t slot : diagonal_) matrix_[slot] += 1.0 / (coefficients().gamma * step);
    return lu_.factor(matrix_);
}

void Rosenbrock::shift(std::span<const double> weights) {
    for (std::size_t i = 0; i < state_.size(); ++i) next_[i] = state_[i] + weighted(parts_, weights, i);
    rates_.rates(next_, rate_);
}

bool Rosenbrock::stage(std::vector<double>& result, double step, std::span<const double> weights) {
    for (std::size_t i = 0; i < result.size(); ++i) result[i] = rate_[i] + weighted(parts_, weights, i) / step;
    return lu_.solve(result);
}

bool Rosenbrock::stages(double step) {
    const Coefficients& use = coefficients();
    if (!factor(step)) return false;
    rates_.rates(state_, rate_);
    if (!stage(parts_[0], step, {})) return false;
    shift(use.shift_2);
    if (!stage(parts_[1], step, use.weigh_2)) return false;
    shift(use.shift_3);
    if (!stage(parts_[2], step, use.weigh_3)) return false;
    shift(use.shift_4);
    if (!stage(parts_[3], step, use.weigh_4)) return false;
    shift(use.shift_5);
    if (!stage(parts_[4], step, use.weigh_5)) return false;
    for (std::size_t i = 0; i < next_.size(); ++i) next_[i] += parts_[4][i];
    rates_.rates(next_, rate_);
    if (!stage(error_, step, use.weigh_6)) return false;
    for (std::size_t i = 0; i < next_.size(); ++i) next_[i] += error_[i];
    return true;
}

// Largest error over the tolerance; infinite where there is no number.
double Rosenbrock::excess() const {
    double largest = 0.0;
    for (std::size_t i = 0; i < error_.size(); ++i) {
        if (!std::isfinite(error_[i]) || !std::isfinite(next_[i])) return std::numeric_limits<double>::infinity();
        largest = std::max(largest, std::abs(error_[i]) / tolerance_);
    }
    return largest;
}

bool Rosenbrock::advance() {
    constexpr double safety = 0.9;
    constexpr double most_growth = 6.0;
    constexpr double most_shrink = 0.2;
    constexpr double least_excess = 0.01;
    constexpr int most_rejections = 200;
    std::ranges::swap(state_, next_);
    before_ = now_;
    rates_.jacobian(state_, terms_);
    for (int rejections = 0; rejections < most_rejections && now_ + step_ > now_; ++rejections) {
        const double over = stages(step_) ? excess() : std::numeric_limits<double>::infinity();
        double growth = std::clamp(safety / std::pow(std::max(over, 1e-12), 0.25), most_shrink, most_growth);
        if (!(over <= 1.0)) {
            step_ *= std::min(growth, safety);
            continue;
        }
        if (last_step_ > 0.0) {
            const double trend = step_ / last_step_ * std::pow(last_excess_ / std::max(over * over, 1e-12), 0.25);
            growth = std::min(growth, std::clamp(safety * trend, most_shrink, most_growth));
        }
        if (rejections > 0) growth = std::min(growth, 1.0);
        last_step_ = step_;
        last_excess_ = std::max(over, least_excess);
        now_ += step_;
        step_ *= growth;
        prepare_interpolation();
        return true;
    }
    return false;
}

void Rosenbrock::prepare_interpolation() {
    for (std::size_t i = 0; i < third_.size(); ++i) {
        third_[i] = weighted(parts_, coefficients().third, i);
        fourth_[i] = weighted(parts_, coefficients().fourth, i);
    }
}

std::span<const double> Rosenbrock::at(double time) {
    const double share = (time - before_) / (now_ - before_);
    const double rest = 1.0 - share;
    for (std::size_t i = 0; i < answer_.size(); ++i)
        answer_[i] = state_[i] * rest + share * (next_[i] + rest * (third_[i] + share * fourth_[i]));
    return answer_;
}

} // namespace trivet
