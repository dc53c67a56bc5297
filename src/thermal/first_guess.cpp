#include "thermal/fit_problem.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// The log with every hole filled from its neighbours, as degrees above the room.
class FilledLog {
public:
    FilledLog(const ThermalNetwork& network, const HeatLog& log)
        : log_(log) {
        const std::size_t columns = log.bodies.size();
        kelvin_.assign(log.temperatures.size(), 0.0);
        for (std::size_t column = 0; column < columns; ++column) {
            std::optional<double> last;
            for (std::size_t row = 0; row < rows(); ++row) {
                const double read = log.temperatures[row * columns + column].si;
                if (!std::isnan(read)) {
                    if (!last) backfill(row, column, read);
                    last = read;
                }
                kelvin_[row * columns + column] = last.value_or(network.ambient.si);
            }
        }
    }

    std::size_t rows() const { return log_.times.size(); }
    double time(std::size_t row) const { return log_.times[row].si; }
    double air(const ThermalNetwork& network, std::size_t row) const {
        return log_.ambient.empty() ? network.ambient.si : log_.ambient[row].si;
    }
    double share(std::size_t source, std::size_t row) const { return log_.on.empty() ? 1.0 : log_.on[source][row]; }

    std::optional<std::size_t> column_of(std::uint32_t body) const {
        const auto found = std::ranges::find(log_.bodies, body);
        if (found == log_.bodies.end()) return std::nullopt;
        return static_cast<std::size_t>(found - log_.bodies.begin());
    }
    double at(std::size_t row, std::size_t column) const { return kelvin_[row * log_.bodies.size() + column]; }
    std::size_t columns() const { return log_.bodies.size(); }

private:
    void backfill(std::size_t until, std::size_t column, double kelvin) {
        for (std::size_t row = 0; row < until; ++row) kelvin_[row * log_.bodies.size() + column] = kelvin;
    }

    const HeatLog& log_;
    std::vector<double> kelvin_;
};

std::optional<std::size_t> position(const std::vector<OpenParameter>& open, OpenParameter::Kind kind,
                                    std::size_t index) {
    for (std::size_t i = 0; i < open.size(); ++i)
        if (open[i].kind == kind && open[i].index == index) return i;
    return std::nullopt;
}

// One equation: open parameters times their coefficients equal heat.
class HeatBalance {
public:
    HeatBalance(const ThermalNetwork& network, const std::vector<OpenParameter>& open, const FilledLog& log)
        : network_(network)
        , open_(open)
        , log_(log) {}

    // Whether everything that passes heat with this body was measured.
    bool is_closed(std::uint32_t body) const {
        if (!log_.column_of(body)) return false;
        return std::ranges::all_of(network_.links, [&](const HeatLink& link) {
            if (link.from == body) return link.to == room || log_.column_of(link.to).has_value();
            return link.to != body || log_.column_of(link.from).has_value();
        });
    }

    // Of one body from a row to a later one.
    double fill(std::uint32_t body, std::size_t from, std::size_t to, Eigen::RowVectorXd& coefficients) const {
        coefficients.setZero(static_cast<Eigen::Index>(open_.size()));
        const std::size_t column = *log_.column_of(body);
        const Temperature before{log_.at(from, column)};
        const Temperature after{log_.at(to, column)};
        double heat = 0.0;
        if (const auto at = position(open_, OpenParameter::Kind::capacity, body))
            coefficients[static_cast<Eigen::Index>(*at)] = after.si - before.si;
        else
            heat -= heat_content(network_.bodies[body], after).si - heat_content(network_.bodies[body], before).si;
        for (std::size_t row = from; row < to; ++row) {
            const double length = log_.time(row + 1) - log_.time(row);
            for (std::size_t s = 0; s < network_.sources.size(); ++s)
                if (network_.sources[s].body == body)
                    heat += length * log_.share(s, row) *
                            source_power(network_.sources[s], {log_.at(row, column)}).power.si;
            for (std::size_t i = 0; i < network_.links.size(); ++i)
                heat -= lost_through(i, body, row, length, coefficients);
        }
        return heat;
    }

private:
    double kelvin(std::uint32_t body, std::size_t row) const {
        const auto mean = [&](const auto& value) { return 0.5 * (value(row) + value(row + 1)); };
        if (body == room) return mean([&](std::size_t at) { return log_.air(network_, at); });
        const std::size_t column = *log_.column_of(body);
        return mean([&](std::size_t at) { return log_.at(at, column); });
    }

    // Known heat that leaves the body; an open link adds to its coefficient instead.
    double lost_through(std::size_t index, std::uint32_t body, std::size_t row, double length,
                        Eigen::RowVectorXd& coefficients) const {
        const HeatLink& link = network_.links[index];
        if (link.from != body && link.to != body) return 0.0;
        const double sign = link.from == body ? 1.0 : -1.0;
        const double from = kelvin(link.from, row);
        const double to = kelvin(link.to, row);
        if (const auto at = position(open_, OpenParameter::Kind::conductance, index)) {
            coefficients[static_cast<Eigen::Index>(*at)] += sign * length * link.share * (from - to);
            return 0.0;
        }
        return sign * length * heat_flow(link, {from}, {to}).power.si;
    }

    const ThermalNetwork& network_;
    const std::vector<OpenParameter>& open_;
    const FilledLog& log_;
};

// Least squares over stretches of the log; 0 or less where the balance does not tell.
std::vector<double> by_heat_balance(const ThermalNetwork& network, const std::vector<OpenParameter>& open,
                                    const FilledLog& log) {
    constexpr std::size_t most_stretches = 40;
    const HeatBalance balance(network, open, log);
    const std::size_t stretches = std::min(most_stretches, log.rows() - 1);
    std::vector<Eigen::RowVectorXd> rows;
    std::vector<double> heats;
    for (std::uint32_t body = 0; body < network.bodies.size(); ++body) {
        if (!balance.is_closed(body)) continue;
        for (std::size_t k = 0; k < stretches; ++k) {
            Eigen::RowVectorXd row;
            const std::size_t from = k * (log.rows() - 1) / stretches;
            const std::size_t to = (k + 1) * (log.rows() - 1) / stretches;
            heats.push_back(balance.fill(body, from, to, row));
            rows.push_back(row);
        }
    }
    std::vector<double> result(open.size(), 0.0);
    if (rows.empty()) return result;
    Eigen::MatrixXd matrix(static_cast<Eigen::Index>(rows.size()), static_cast<Eigen::Index>(open.size()));
    for (std::size_t i = 0; i < rows.size(); ++i) matrix.row(static_cast<Eigen::Index>(i)) = rows[i];
    Eigen::ColPivHouseholderQR<Eigen::MatrixXd> solver(matrix);
    solver.setThreshold(1e-4);
    const Eigen::VectorXd found =
        solver.solve(Eigen::Map<const Eigen::VectorXd>(heats.data(), static_cast<Eigen::Index>(heats.size())));
    for (std::size_t i = 0; i < open.size(); ++i) result[i] = found[static_cast<Eigen::Index>(i)];
    return result;
}

struct Scale {
    double conductance = 1.0;
    double capacity = 100.0;
};

// The whole build as one body: power over temperature rise, and a third of the duration as its time constant.
Scale scale_of(const ThermalNetwork& network, const FilledLog& log) {
    double rise = 0.1;
    double energy = 0.0;
    for (std::size_t row = 0; row < log.rows(); ++row) {
        for (std::size_t column = 0; column < log.columns(); ++column)
            rise = std::max(rise, std::abs(log.at(row, column) - log.air(network, row)));
        if (row + 1 == log.rows()) break;
        for (std::size_t s = 0; s < network.sources.size(); ++s)
            energy += log.share(s, row) * network.sources[s].power.si * (log.time(row + 1) - log.time(row));
    }
    const double duration = log.time(log.rows() - 1) - log.time(0);
    Scale scale;
    if (energy > 0.0) scale.conductance = energy / duration / rise;
    scale.capacity = scale.conductance * duration / 3.0;
    return scale;
}

} // namespace

std::vector<std::vector<double>> first_guesses(const ThermalNetwork& network, const std::vector<OpenParameter>& open,
                                               const HeatLog& log) {
    constexpr double factors[] = {1.0, 0.1, 10.0};
    const FilledLog filled(network, log);
    const Scale scale = scale_of(network, filled);
    const std::vector<double> balanced = by_heat_balance(network, open, filled);
    std::vector<std::vector<double>> sets;
    for (const bool use_balance : {true, false})
        for (const double for_conductances : factors)
            for (const double for_capacities : factors) {
                std::vector<double> set;
                bool is_new = !use_balance;
                for (std::size_t i = 0; i < open.size(); ++i) {
                    const bool is_conductance = open[i].kind == OpenParameter::Kind::conductance;
                    const double rough =
                        is_conductance ? scale.conductance * for_conductances : scale.capacity * for_capacities;
                    const bool plausible = balanced[i] > 1e-3 * rough && balanced[i] < 1e3 * rough;
                    is_new = is_new || plausible;
                    set.push_back(open[i].first_guess > 0.0 ? open[i].first_guess
                                                            : (use_balance && plausible ? balanced[i] : rough));
                }
                if (is_new && std::ranges::find(sets, set) == sets.end()) sets.push_back(std::move(set));
            }
    return sets;
}

} // namespace trivet
