#pragma once

#include "electrical/network.h"

#include <array>

namespace trivet {

// Where the solver stands: unknowns (junction voltages, then edge currents) and, per edge, the voltage (series:
// current) its law was linearised at and whether it is held below its knee.
struct Iterate {
    std::vector<double> x;
    std::vector<double> at;
    std::vector<char> collapsed;
};

struct Conditions {
    const double* values = nullptr; // [own parameter]
    bool starting = false;
    bool unloaded = false;           // first guess: loads and converters draw next to nothing, diodes conduct
    std::uint32_t removed = nowhere; // an edge taken out: a load, or a converter input whose output stays as set
};

// Modified nodal analysis of a reduced network (Ho, Ruehli, Brennan 1975) with every edge current as an unknown, so
// that Kirchhoff's current law is linear with coefficients of 1 and holds to rounding even over resistance-free edges.
class Equations {
public:
    void build(const Island& island, const Network& network);
    void assemble(const Iterate& iterate, const Conditions& conditions);

    std::size_t size() const { return residual_.size(); }
    const std::vector<int>& column_start() const { return column_start_; }
    const std::vector<int>& row() const { return row_; }
    std::vector<double>& matrix() { return matrix_; }
    const std::vector<double>& residual() const { return residual_; }
    bool within_tolerance() const { return within_tolerance_; } // of the last assembly
    // Largest |sum of currents at a node| over the largest current there, at the last assembly.
    double kirchhoff_residual() const { return kirchhoff_residual_; }
    std::uint32_t current(std::uint32_t edge) const { return network_->junctions + edge; }
    double voltage(const Iterate& iterate, std::uint32_t node) const;
    double across(const Iterate& iterate, std::uint32_t edge) const; // from - to

private:
    struct Slots {
        int from, to, current, partner_from, partner_to;
    };
    void place(std::vector<std::pair<std::uint64_t, int*>>& entries);
    void add(int slot, double value) {
        if (slot >= 0) matrix_[static_cast<std::size_t>(slot)] += value;
    }
    void apply_kirchhoff(const Iterate& iterate);
    void assemble_series(std::uint32_t edge, const Iterate& iterate, const Conditions& conditions);
    void assemble_shunt(std::uint32_t edge, const Iterate& iterate, const Conditions& conditions);
    void assemble_input(std::uint32_t edge, const Iterate& iterate, const Conditions& conditions);
    void assemble_output(std::uint32_t edge, const Iterate& iterate, const Conditions& conditions);
    void draw(std::uint32_t edge, double value, double slope, double current, double shortfall);
    void require(double residual, double tolerance) {
        within_tolerance_ = within_tolerance_ && std::abs(residual) <= tolerance;
    }

    const Island* island_ = nullptr;
    const Network* network_ = nullptr;
    std::vector<int> column_start_;
    std::vector<int> row_;
    std::vector<double> base_;
    std::vector<double> matrix_;
    std::vector<double> residual_;
    std::vector<double> local_;    // [junction]: largest current there
    std::vector<double> live_sum_; // [junction]: sum of currents without dead edges
    double kirchhoff_residual_ = 0.0;
    std::vector<Slots> slots_;
    std::vector<std::array<int, 2>> kirchhoff_;
    bool within_tolerance_ = false;
};

} // namespace trivet
