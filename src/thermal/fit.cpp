#include "thermal/fit.h"

#include "thermal/fit_problem.h"

#include <boost/math/distributions/fisher_f.hpp>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

using Progress = std::function<void(int, TemperatureDifference)>;

constexpr int most_iterations = 60;
constexpr double finest_reading = 1e-3;    // K: no thermometer of such a log is better
constexpr double smallest_singular = 1e-7; // of the largest: below that, differences are rounding
constexpr double widest_factor = 3.0;      // an interval wider than this factor both ways is no answer
constexpr double widened_above = 0.2;      // autocorrelation

struct Minimum {
    Eigen::VectorXd at;
    Eigen::VectorXd residuals;
    int iterations = 0;
    bool converged = false;
};

double root_mean_square(const Eigen::VectorXd& residuals) {
    return residuals.size() == 0 ? 0.0 : std::sqrt(residuals.squaredNorm() / static_cast<double>(residuals.size()));
}

// The damped step: least squares of [R; sqrt(damping) scale] from the QR factors of the derivatives.
Eigen::VectorXd damped_step(const Eigen::MatrixXd& upper, const Eigen::VectorXd& rotated, const Eigen::VectorXd& scale,
                            double damping) {
    const Eigen::Index size = scale.size();
    Eigen::MatrixXd stacked = Eigen::MatrixXd::Zero(2 * size, size);
    stacked.topRows(size) = upper;
    stacked.bottomRows(size).diagonal() = std::sqrt(damping) * scale;
    Eigen::VectorXd right = Eigen::VectorXd::Zero(2 * size);
    right.head(size) = rotated;
    return stacked.householderQr().solve(right);
}

// No parameter moves by more than a factor 4, no temperature by more than 50 K at once, nor out of all bounds.
Eigen::VectorXd bounded(const Eigen::VectorXd& from, Eigen::VectorXd step, std::size_t open_count) {
    constexpr double most = 1.4;
    constexpr double outermost = 23.0; // e^23 is 1e10
    double shorten = 1.0;
    for (Eigen::Index i = 0; i < step.size(); ++i) {
        const double limit = i < static_cast<Eigen::Index>(open_count) ? most : 50.0;
        if (std::abs(step[i]) > limit) shorten = std::min(shorten, limit / std::abs(step[i]));
    }
    step *= shorten;
    for (Eigen::Index i = 0; i < static_cast<Eigen::Index>(open_count); ++i)
        step[i] = std::clamp(from[i] + step[i], -outermost, outermost) - from[i];
    return step;
}

// Levenberg-Marquardt with the scaling of J. J. Moré, "The Levenberg-Marquardt algorithm", Lecture Notes in Mathematics
// 630, 1978: damping is relative to the largest column norm seen.
class Search {
public:
    Search(FitProblem& problem, const Progress& progress)
        : problem_(problem)
        , progress_(progress) {}

    Minimum from(const Eigen::VectorXd& start) {
        Minimum minimum;
        minimum.at = start;
        auto first = problem_.residuals(start);
        if (!first) return minimum;
        minimum.residuals = std::move(*first);
        double damping = 1e-3;
        Eigen::VectorXd scale = Eigen::VectorXd::Zero(start.size());
        while (!minimum.converged && minimum.iterations < most_iterations) {
            ++minimum.iterations;
            if (progress_) progress_(minimum.iterations, {root_mean_square(minimum.residuals)});
            const auto derivatives = problem_.derivatives(minimum.at, minimum.residuals);
            if (!derivatives) break;
            for (Eigen::Index i = 0; i < scale.size(); ++i)
                scale[i] = std::max({scale[i], derivatives->col(i).norm(), 1e-9});
            if (!descend(minimum, *derivatives, scale, damping)) break;
        }
        return minimum;
    }

private:
    // Raises the damping until a step helps; false when none does any more, which is the end.
    bool descend(Minimum& minimum, const Eigen::MatrixXd& derivatives, const Eigen::VectorXd& scale, double& damping) {
        const Eigen::Index size = scale.size();
        Eigen::HouseholderQR<Eigen::MatrixXd> factors(derivatives);
        const Eigen::MatrixXd upper = factors.matrixQR().topRows(size).triangularView<Eigen::Upper>().toDenseMatrix();
        const Eigen::VectorXd rotated = (factors.householderQ().adjoint() * minimum.residuals).head(size);
        const double before = minimum.residuals.squaredNorm();
        for (; damping < 1e10; damping *= 8.0) {
            const Eigen::VectorXd step =
                bounded(minimum.at, damped_step(upper, rotated, scale, damping), problem_.open_count());
            const double promised = (before - (minimum.residuals - derivatives * step).squaredNorm()) / before;
            auto after = problem_.residuals(minimum.at + step);
            const bool is_small = promised < 1e-9 || step.cwiseProduct(scale).norm() < 1e-12;
            if (after && after->squaredNorm() < before) {
                minimum.at += step;
                minimum.residuals = std::move(*after);
                damping = std::max(damping / 10.0, 1e-12);
                minimum.converged = is_small;
                return true;
            }
            if (is_small) break;
        }
        minimum.converged = true;
        return false;
    }

    FitProblem& problem_;
    const Progress& progress_;
};

// Whether the log follows every body: then the heat balance gives a first guess near the only minimum.
bool everything_measured(const ThermalNetwork& network, const HeatLog& log) {
    for (std::uint32_t body = 0; body < network.bodies.size(); ++body)
        if (std::ranges::find(log.bodies, body) == log.bodies.end()) return false;
    return true;
}

// Minima, lowest first. A body that the log does not follow can make different numbers fit alike (its time constant and
// that of a measured one may change places), so then all first guesses are followed.
std::vector<Minimum> find_minima(FitProblem& problem, const std::vector<OpenParameter>& open, const HeatLog& log,
                                 const Progress& progress) {
    const bool only_minimum = everything_measured(problem.network(), log);
    std::vector<Minimum> minima;
    for (const auto& guess : first_guesses(problem.network(), open, log)) {
        Minimum found = Search(problem, progress).from(problem.start_vector(guess));
        const bool good = found.converged;
        if (found.residuals.size() > 0) minima.push_back(std::move(found));
        if (good && only_minimum) break;
    }
    std::ranges::stable_sort(minima, {}, [](const Minimum& minimum) { return minimum.residuals.squaredNorm(); });
    return minima;
}

// Covariance of the unknowns for readings of this variance, from the singular values of the column-scaled derivatives.
Eigen::MatrixXd covariance(const Eigen::MatrixXd& derivatives, double variance) {
    Eigen::VectorXd norms = derivatives.colwise().norm();
    const double least = std::max(1e-12 * norms.maxCoeff(), 1e-12);
    norms = norms.cwiseMax(least);
    const Eigen::MatrixXd scaled = derivatives * norms.cwiseInverse().asDiagonal();
    const Eigen::Index size = norms.size();
    const Eigen::MatrixXd upper =
        scaled.householderQr().matrixQR().topRows(size).triangularView<Eigen::Upper>().toDenseMatrix();
    const Eigen::JacobiSVD<Eigen::MatrixXd> svd(upper, Eigen::ComputeFullV);
    const Eigen::VectorXd singular =
        svd.singularValues().cwiseMax(smallest_singular * std::max(svd.singularValues()[0], 1e-12));
    const Eigen::MatrixXd half =
        norms.cwiseInverse().asDiagonal() * svd.matrixV() * singular.cwiseInverse().asDiagonal();
    return variance * half * half.transpose();
}

// How far the box around the joint 95 % confidence region reaches, in standard deviations.
double reach(std::size_t open_count, double freedom) {
    const auto count = static_cast<double>(open_count);
    return std::sqrt(count * boost::math::quantile(boost::math::fisher_f(count, freedom), 0.95));
}

// What a spread of the readings means for the open parameters.
struct Confidence {
    double widening = 1.0; // neighbours that resemble each other are worth fewer independent readings
    double deviations = 0.0;
    double freedom = 1.0;
};

Confidence confidence(std::size_t open_count, double freedom, double autocorrelation) {
    const double alike = std::min(autocorrelation, 0.99);
    Confidence result;
    if (alike > widened_above) result.widening = (1.0 + alike) / (1.0 - alike);
    result.freedom = freedom;
    result.deviations = reach(open_count, std::max(freedom / result.widening, 1.0));
    return result;
}

void fill_intervals(FitResult& result, const std::vector<OpenParameter>& open, const std::vector<Minimum>& minima,
                    const Eigen::MatrixXd& of_open, const Confidence& trust) {
    const Minimum& best = minima.front();
    const double alike =
        best.residuals.squaredNorm() * (1.0 + trust.widening * trust.deviations * trust.deviations / trust.freedom);
    for (std::size_t i = 0; i < open.size(); ++i) {
        const auto at = static_cast<Eigen::Index>(i);
        const double half = trust.deviations * std::sqrt(of_open(at, at));
        double lowest = best.at[at];
        double highest = best.at[at];
        for (const Minimum& other : minima) {
            if (!(other.residuals.size() > 0 && other.residuals.squaredNorm() <= alike)) continue;
            lowest = std::min(lowest, other.at[at]);
            highest = std::max(highest, other.at[at]);
        }
        lowest -= half;
        highest += half;
        const double widest = std::log(widest_factor);
        if (!(highest - best.at[at] < widest && best.at[at] - lowest < widest))
            result.undetermined.push_back(open[i].name);
        result.parameters.push_back({open[i], std::exp(best.at[at]), std::exp(lowest), std::exp(highest)});
    }
    if (result.undetermined.empty()) return;
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> directions(of_open);
    for (const double variance : directions.eigenvalues())
        if (!(trust.deviations * std::sqrt(std::max(variance, 0.0)) < std::log(widest_factor))) ++result.missing;
    result.missing = std::max<std::size_t>(result.missing, 1);
}

FitResult nothing_determined(const std::vector<OpenParameter>& open) {
    FitResult result;
    for (const OpenParameter& parameter : open) result.undetermined.push_back(parameter.name);
    result.missing = open.size();
    return result;
}

} // namespace

FitResult fit(ThermalNetwork network, const std::vector<OpenParameter>& open, const HeatLog& log,
              const std::function<void(int, TemperatureDifference)>& progress) {
    if (open.empty() || log.times.size() < 2) return nothing_determined(open);
    FitProblem problem(std::move(network), open, log);
    if (problem.readings() <= problem.unknowns()) return nothing_determined(open);
    const std::vector<Minimum> minima = find_minima(problem, open, log, progress);
    // Once more, for the steps that the differences then repeat.
    if (minima.empty() || !problem.residuals(minima.front().at)) return nothing_determined(open);
    const Minimum& best = minima.front();
    const auto derivatives = problem.central_derivatives(best.at);
    if (!derivatives) return nothing_determined(open);

    FitResult result;
    result.residual = {root_mean_square(best.residuals)};
    result.largest_residual = {best.residuals.cwiseAbs().maxCoeff()};
    result.autocorrelation = problem.autocorrelation(best.residuals);
    for (const Minimum& minimum : minima) result.iterations += minimum.iterations;
    result.converged = best.converged;
    const auto freedom = static_cast<double>(problem.readings() - problem.unknowns());
    const Confidence trust = confidence(open.size(), freedom, result.autocorrelation);
    const double variance =
        std::max(best.residuals.squaredNorm() / freedom, finest_reading * finest_reading) * trust.widening;
    const auto count = static_cast<Eigen::Index>(open.size());
    fill_intervals(result, open, minima, covariance(*derivatives, variance).topLeftCorner(count, count), trust);
    return result;
}

} // namespace trivet
