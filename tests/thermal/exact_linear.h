#pragma once

#include "thermal/transient.h"

#include <Eigen/Dense>

#include <cmath>
#include <vector>

namespace trivet::testing {

// Temperatures of bodies with fixed conductances, and what one feeler with a lag feels, by the exponential of the
// matrix (from its eigenvectors) and written without the code under test.
class ExactLinear {
public:
    ExactLinear(const ThermalNetwork& network, std::uint32_t felt_body, double lag)
        : bodies_(static_cast<Eigen::Index>(network.bodies.size())) {
        const Eigen::Index size = bodies_ + (lag > 0.0 ? 1 : 0);
        felt_ = lag > 0.0 ? bodies_ : felt_body;
        Eigen::MatrixXd by_state = Eigen::MatrixXd::Zero(size, size);
        Eigen::VectorXd cooled = Eigen::VectorXd::Zero(size);
        heated_ = Eigen::VectorXd::Zero(size);
        const auto capacity = [&](std::uint32_t body) { return network.bodies[body].capacity.si; };
        for (const HeatLink& link : network.links) {
            const double conductance = link.share * std::get<Conducts>(link.law).conductance.si;
            by_state(link.from, link.from) -= conductance / capacity(link.from);
            if (link.to == room) {
                cooled(link.from) += conductance * network.ambient.si / capacity(link.from);
                continue;
            }
            by_state(link.from, link.to) += conductance / capacity(link.from);
            by_state(link.to, link.from) += conductance / capacity(link.to);
            by_state(link.to, link.to) -= conductance / capacity(link.to);
        }
        if (lag > 0.0) {
            by_state(felt_, felt_body) = 1.0 / lag;
            by_state(felt_, felt_) = -1.0 / lag;
        }
        for (const HeatSource& source : network.sources)
            heated_(source.body) += source.power.si / capacity(source.body);
        const Eigen::EigenSolver<Eigen::MatrixXd> eigen(by_state);
        values_ = eigen.eigenvalues();
        vectors_ = eigen.eigenvectors();
        back_ = vectors_.inverse();
        rest_off_ = by_state.partialPivLu().solve(-cooled);
        rest_on_ = by_state.partialPivLu().solve(-(cooled + heated_));
    }

    Eigen::VectorXd rest(bool on) const { return on ? rest_on_ : rest_off_; }
    Eigen::VectorXd after(const Eigen::VectorXd& state, bool on, double time) const {
        const Eigen::VectorXcd growth = (values_ * time).array().exp();
        const Eigen::VectorXcd away = back_ * (state - rest(on)).cast<std::complex<double>>();
        return rest(on) + (vectors_ * (growth.array() * away.array()).matrix()).real();
    }
    double felt(const Eigen::VectorXd& state) const { return state(felt_); }

    // When what is felt first passes a temperature, looked for in steps and then halved.
    double time_to(const Eigen::VectorXd& state, bool on, double kelvin, double step) const {
        const auto passed = [&](double time) {
            const double here = felt(after(state, on, time));
            return on ? here >= kelvin : here <= kelvin;
        };
        double high = 0.0;
        while (!passed(high)) high += step;
        double low = std::max(0.0, high - step);
        for (int i = 0; i < 60; ++i) (passed(0.5 * (low + high)) ? high : low) = 0.5 * (low + high);
        return high;
    }

private:
    Eigen::Index bodies_ = 0;
    Eigen::Index felt_ = 0;
    Eigen::VectorXcd values_;
    Eigen::MatrixXcd vectors_;
    Eigen::MatrixXcd back_;
    Eigen::VectorXd heated_;
    Eigen::VectorXd rest_off_;
    Eigen::VectorXd rest_on_;
};

} // namespace trivet::testing
