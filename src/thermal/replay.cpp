#include "thermal/replay.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

constexpr double tolerance = 1e-3;         // K, of one step
constexpr std::uint32_t most_steps = 4096; // between two rows
constexpr double coldest = 1.0;            // K
constexpr double hottest = 5000.0;

using Vector = std::vector<double>;

// Solves a small dense system by elimination with row exchange; factored once, used for four stages.
class SmallSolver {
public:
    void factor(const Vector& matrix, std::size_t size) {
        lu_ = matrix;
        size_ = size;
        order_.resize(size);
        for (std::size_t k = 0; k < size; ++k) {
            std::size_t best = k;
            for (std::size_t row = k + 1; row < size; ++row)
                if (std::abs(lu_[row * size + k]) > std::abs(lu_[best * size + k])) best = row;
            order_[k] = best;
            if (best != k)
                for (std::size_t col = 0; col < size; ++col) std::swap(lu_[k * size + col], lu_[best * size + col]);
            for (std::size_t row = k + 1; row < size; ++row) {
                const double factor = lu_[row * size + k] /= lu_[k * size + k];
                for (std::size_t col = k + 1; col < size; ++col) lu_[row * size + col] -= factor * lu_[k * size + col];
            }
        }
    }

    void solve(Vector& x) const {
        for (std::size_t k = 0; k < size_; ++k) std::swap(x[k], x[order_[k]]);
        for (std::size_t row = 1; row < size_; ++row)
            for (std::size_t col = 0; col < row; ++col) x[row] -= lu_[row * size_ + col] * x[col];
        for (std::size_t row = size_; row-- > 0;) {
            for (std::size_t col = row + 1; col < size_; ++col) x[row] -= lu_[row * size_ + col] * x[col];
            x[row] /= lu_[row * size_ + row];
        }
    }

private:
    Vector lu_;
    std::vector<std::size_t> order_;
    std::size_t size_ = 0;
};

// Kelvin per joule at this temperature.
double softness(const ThermalBody& body, double temperature) {
    double capacity = body.capacity.si;
    if (body.melting && temperature > body.melting->from.si && temperature < body.melting->to.si)
        capacity += body.melting->energy.si / (body.melting->to.si - body.melting->from.si);
    return 1.0 / capacity;
}

// What drives the network between two rows.
struct Drive {
    const HeatLog* log = nullptr;
    std::size_t row = 0;
    double air = 0.0;   // at the row
    double slope = 0.0; // K/s
};

// The network as dE/dt = power(E, t), and one step of the method.
class Stepper {
public:
    explicit Stepper(const ThermalNetwork& network)
        : network_(network)
        , size_(network.bodies.size())
        , temperature_(size_)
        , jacobian_(size_ * size_)
        , by_time_(size_) {}

    // From `energy` at `time` after the row; `energy` becomes the new content. Returns the error in K.
    double step(Vector& energy, const Drive& drive, double time, double length);

private:
    void evaluate(const Vector& energy, const Drive& drive, double time, Vector& power, bool with_derivatives);
    void flow_through(const HeatLink& link, double air, Vector& power, const Drive* derivatives);

    const ThermalNetwork& network_;
    std::size_t size_;
    Vector temperature_;
    Vector jacobian_; // of power by energy
    Vector by_time_;  // of power by time
    SmallSolver solver_;
    std::array<Vector, 4> stage_;
    Vector at_;
    Vector power_;
};

void Stepper::flow_through(const HeatLink& link, double air, Vector& power, const Drive* derivatives) {
    const double to = link.to == room ? air : temperature_[link.to];
    const Flow flow = heat_flow(link, {temperature_[link.from]}, {to});
    power[link.from] -= flow.power.si;
    if (link.to != room) power[link.to] += flow.power.si;
    if (derivatives == nullptr) return;
    const double by_from = flow.by_from.si * softness(network_.bodies[link.from], temperature_[link.from]);
    jacobian_[link.from * size_ + link.from] -= by_from;
    if (link.to == room) {
        by_time_[link.from] -= flow.by_to.si * derivatives->slope;
        return;
    }
    const double by_to = flow.by_to.si * softness(network_.bodies[link.to], temperature_[link.to]);
    jacobian_[link.from * size_ + link.to] -= by_to;
    jacobian_[link.to * size_ + link.from] += by_from;
    jacobian_[link.to * size_ + link.to] += by_to;
}

void Stepper::evaluate(const Vector& energy, const Drive& drive, double time, Vector& power, bool with_derivatives) {
    power.assign(size_, 0.0);
    if (with_derivatives) {
        std::ranges::fill(jacobian_, 0.0);
        std::ranges::fill(by_time_, 0.0);
    }
    for (std::size_t body = 0; body < size_; ++body)
        temperature_[body] = temperature_at(network_.bodies[body], {energy[body]}).si;
    const double air = drive.air + drive.slope * time;
    for (const HeatLink& link : network_.links) flow_through(link, air, power, with_derivatives ? &drive : nullptr);
    for (std::size_t s = 0; s < network_.sources.size(); ++s) {
        const double share = drive.log->on.empty() ? 1.0 : drive.log->on[s][drive.row];
        if (share == 0.0) continue;
        const std::uint32_t body = network_.sources[s].body;
        const SourcePower source = source_power(network_.sources[s], {temperature_[body]});
        power[body] += share * source.power.si;
        if (with_derivatives)
            jacobian_[body * size_ + body] +=
                share * source.by_temperature.si * softness(network_.bodies[body], temperature_[body]);
    }
}

double Stepper::step(Vector& energy, const Drive& drive, double time, double length) {
    constexpr double gamma = 0.5;
    evaluate(energy, drive, time, power_, true);
    for (double& entry : jacobian_) entry = -entry;
    for (std::size_t i = 0; i < size_; ++i) jacobian_[i * size_ + i] += 1.0 / (gamma * length);
    solver_.factor(jacobian_, size_);

    auto& [first, second, third, fourth] = stage_;
    first.resize(size_);
    second.resize(size_);
    third.resize(size_);
    fourth.resize(size_);
    at_.resize(size_);
    const double per_step = 1.0 / length;
    for (std::size_t i = 0; i < size_; ++i) first[i] = power_[i] + 0.5 * length * by_time_[i];
    solver_.solve(first);
    for (std::size_t i = 0; i < size_; ++i)
        second[i] = power_[i] + 4.0 * per_step * first[i] + 1.5 * length * by_time_[i];
    solver_.solve(second);
    for (std::size_t i = 0; i < size_; ++i) at_[i] = energy[i] + 2.0 * first[i];
    evaluate(at_, drive, time + length, power_, false);
    for (std::size_t i = 0; i < size_; ++i) third[i] = power_[i] + per_step * (first[i] - second[i]);
    solver_.solve(third);
    for (std::size_t i = 0; i < size_; ++i) at_[i] += third[i];
    evaluate(at_, drive, time + length, power_, false);
    for (std::size_t i = 0; i < size_; ++i)
        fourth[i] = power_[i] + per_step * (first[i] - second[i] - 8.0 / 3.0 * third[i]);
    solver_.solve(fourth);

    double error = 0.0;
    for (std::size_t i = 0; i < size_; ++i) {
        energy[i] = at_[i] + fourth[i];
        error = std::max(error, std::abs(fourth[i]) / network_.bodies[i].capacity.si);
    }
    return error;
}

// Steps from a row to the next; the error of the worst step.
double walk(Stepper& stepper, Vector& energy, const Drive& drive, double interval, std::uint32_t steps) {
    double worst = 0.0;
    const double length = interval / steps;
    for (std::uint32_t k = 0; k < steps; ++k) {
        const double error = stepper.step(energy, drive, k * length, length);
        if (!std::isfinite(error)) return error;
        worst = std::max(worst, error);
    }
    return worst;
}

double air_at_row(const ThermalNetwork& network, const HeatLog& log, std::size_t row) {
    return log.ambient.empty() ? network.ambient.si : log.ambient[row].si;
}

} // namespace

std::vector<double> Replay::run(const ThermalNetwork& network, const std::vector<double>& start, bool again) {
    const std::size_t rows = log_.times.size();
    const std::size_t size = network.bodies.size();
    if (!again) steps_.assign(rows, 1);
    Stepper stepper(network);
    Vector energy(size);
    for (std::size_t body = 0; body < size; ++body) energy[body] = heat_content(network.bodies[body], {start[body]}).si;
    Vector out = start;
    out.reserve(rows * size);
    std::uint32_t steps = 1;
    for (std::size_t row = 0; row + 1 < rows; ++row) {
        const double interval = log_.times[row + 1].si - log_.times[row].si;
        Drive drive{&log_, row, air_at_row(network, log_, row), 0.0};
        drive.slope = (air_at_row(network, log_, row + 1) - drive.air) / interval;
        if (again) {
            walk(stepper, energy, drive, interval, steps_[row]);
        } else {
            const Vector before = energy;
            double error = walk(stepper, energy, drive, interval, steps);
            while (!(error <= tolerance) && steps < most_steps) {
                steps *= 2;
                energy = before;
                error = walk(stepper, energy, drive, interval, steps);
            }
            steps_[row] = steps;
            if (error < tolerance / 16.0 && steps > 1) steps /= 2;
        }
        for (std::size_t body = 0; body < size; ++body) {
            const double temperature = temperature_at(network.bodies[body], {energy[body]}).si;
            if (!(temperature > coldest && temperature < hottest)) return {};
            out.push_back(temperature);
        }
    }
    return out;
}

} // namespace trivet
