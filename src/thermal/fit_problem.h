#pragma once

#include "thermal/replay.h"

#include <Eigen/Dense>

#include <optional>

namespace trivet {

// What a fit varies: the logarithms of the open parameters, then the temperatures some bodies start from. A measured
// body's start is always found, as its first reading is no more exact than the others. An unmeasured body starts at the
// room's temperature when all measured ones do within 2 K, otherwise its start is found, too.
class FitProblem {
public:
    FitProblem(ThermalNetwork network, const std::vector<OpenParameter>& open, const HeatLog& log);

    std::size_t open_count() const { return open_.size(); }
    std::size_t unknowns() const { return open_.size() + free_starts_.size(); }
    std::size_t readings() const { return readings_.size(); }
    Eigen::VectorXd start_vector(const std::vector<double>& guesses) const;
    void set(const std::vector<double>& guesses) { set_parameters(guesses); }
    const ThermalNetwork& network() const { return network_; }

    // Measured less computed, one per reading in order of rows; nothing when the run leaves all bounds.
    std::optional<Eigen::VectorXd> residuals(const Eigen::VectorXd& unknowns, bool again = false);

    // Change of the computed temperatures per unknown, by differences; `residuals` were those at `unknowns`.
    std::optional<Eigen::MatrixXd> derivatives(const Eigen::VectorXd& unknowns, const Eigen::VectorXd& residuals);
    std::optional<Eigen::MatrixXd> central_derivatives(const Eigen::VectorXd& unknowns);

    // Correlation of each reading's residual with the next one of the same body; 0 to 1.
    double autocorrelation(const Eigen::VectorXd& residuals) const;

private:
    struct Reading {
        std::size_t row = 0;
        std::uint32_t column = 0;
        double kelvin = 0.0;
    };
    double step(std::size_t unknown) const { return unknown < open_.size() ? 1e-3 : 1e-2; }
    void set_parameters(const std::vector<double>& values);

    ThermalNetwork network_;
    const std::vector<OpenParameter>& open_;
    const HeatLog& log_;
    Replay replay_;
    std::vector<Reading> readings_;
    std::vector<double> start_;
    std::vector<std::uint32_t> free_starts_;
};

// Starting values of the open parameters, several sets: the first from the heat balance of the measured bodies between
// rows (linear in the parameters), the others from the whole log's size (power over temperature rise, a third of the
// duration) times and divided by ten.
std::vector<std::vector<double>> first_guesses(const ThermalNetwork& network, const std::vector<OpenParameter>& open,
                                               const HeatLog& log);

} // namespace trivet
