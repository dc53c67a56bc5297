#include "thermal/return_map.h"

#include <Eigen/Dense>

#include <algorithm>
#include <deque>

namespace trivet {

namespace {

using Vector = Eigen::VectorXd;

Vector point_of(const std::vector<Temperature>& bodies, const std::vector<Temperature>& felt) {
    Vector point(static_cast<Eigen::Index>(bodies.size() + felt.size()));
    Eigen::Index i = 0;
    for (const auto* part : {&bodies, &felt})
        for (const Temperature temperature : *part) point[i++] = temperature.si;
    return point;
}

void begin_at(const Vector& point, std::size_t bodies, RunSetup& setup) {
    setup.start.clear();
    setup.felt.clear();
    for (std::size_t i = 0; i < static_cast<std::size_t>(point.size()); ++i)
        (i < bodies ? setup.start : setup.felt).push_back({point[static_cast<Eigen::Index>(i)]});
}

bool is_cycle(const Run& run, std::uint32_t control) {
    if (run.switchings.size() != 2) return false;
    const auto& [off, on] = std::tie(run.switchings[0], run.switchings[1]);
    return !off.is_cutoff && !on.is_cutoff && off.which == control && on.which == control && on.at > off.at;
}

// Next point from the last few points and where they led.
class Anderson {
public:
    Vector next(const Vector& point, const Vector& image) {
        constexpr std::size_t memory = 5;
        points_.push_back(point);
        residuals_.push_back(image - point);
        if (points_.size() > memory + 1) {
            points_.pop_front();
            residuals_.pop_front();
        }
        const auto columns = static_cast<Eigen::Index>(points_.size()) - 1;
        if (columns == 0) return image;
        Eigen::MatrixXd by_point(point.size(), columns);
        Eigen::MatrixXd by_residual(point.size(), columns);
        for (Eigen::Index i = 0; i < columns; ++i) {
            const auto k = static_cast<std::size_t>(i);
            by_point.col(i) = points_[k + 1] - points_[k];
            by_residual.col(i) = residuals_[k + 1] - residuals_[k];
        }
        Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr;
        qr.setThreshold(1e-6); // what is smaller is the noise of the integration
        qr.compute(by_residual);
        const Vector weights = qr.solve(residuals_.back());
        return image - (by_point + by_residual) * weights;
    }

    void forget() {
        points_.clear();
        residuals_.clear();
    }

private:
    std::deque<Vector> points_;
    std::deque<Vector> residuals_;
};

} // namespace

std::optional<Shot> shoot(const ThermalNetwork& network, RunSetup setup, std::uint32_t control) {
    constexpr int most_cycles = 60;
    constexpr double aim = 2e-6;    // K
    constexpr double spoilt = 10.0; // times worse than the best so far
    constexpr double finer = 0.1;
    setup.tolerance *= finer;
    setup.most_switchings = 2;
    setup.record = false;
    setup.start_on[control] = true;
    Run run = simulate(network, setup);
    if (!is_cycle(run, control)) return std::nullopt;

    Anderson anderson;
    Vector start = point_of(run.end, run.felt_end);
    Vector image = start;
    std::optional<Shot> best;
    for (int cycle = 0; cycle < most_cycles && !(best && best->residual <= aim); ++cycle) {
        begin_at(start, network.bodies.size(), setup);
        run = simulate(network, setup);
        if (!is_cycle(run, control)) {
            if (!best || start == image) return best;
            anderson.forget();
            start = image;
            continue;
        }
        image = point_of(run.end, run.felt_end);
        const double residual = (image - start).lpNorm<Eigen::Infinity>();
        if (best && residual > spoilt * best->residual) anderson.forget();
        start = anderson.next(start, image);
        if (!best || residual < best->residual) best = Shot{std::move(run), residual};
    }
    return best;
}

} // namespace trivet
