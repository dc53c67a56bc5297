#pragma once

#include "circuit/circuit.h"
#include "circuit/state.h"

#include <tl/expected.hpp>

#include <span>
#include <string>
#include <vector>

namespace trivet {

// Which end of each parameter of the circuit is taken: an index into Circuit::parameters -> value in SI units.
using ParameterValues = std::vector<double>;

enum class Moment : std::uint8_t { running, starting }; // starting: every start_factor applies at once

// A solved island: node voltages against the island's references and branch currents (Branch sign rule).
struct OperatingPoint {
    std::vector<double> node_voltage;   // V, [node of circuit]; nodes of other islands are 0
    std::vector<double> branch_current; // A, [branch of circuit]
    std::vector<double> output_current; // A, converters only: delivered at the output
    double kirchhoff_residual = 0.0;    // largest |sum of currents at a node| over the largest current there; < 1e-9
    int iterations = 0;
};

// Why there is no operating point: a load asks for more power than the line to it can deliver (limit V²/4R).
struct NoOperatingPoint {
    BranchId branch; // the load or converter input that cannot be fed
    Power demanded;
    Power available;            // V²/4R with V, R of the equivalent source seen from it
    Voltage source_voltage;     // V
    Resistance line_resistance; // R
};

// Modified nodal analysis, sparse LU (KLU), damped Newton for constant-power loads, converters and diodes.
// Ho, Ruehli, Brennan 1975 (MNA). Parts without any path to a source are at 0 V and carry nothing.
tl::expected<OperatingPoint, NoOperatingPoint> solve_dc(const Circuit& circuit, IslandId island, const State& state,
                                                        const ParameterValues& values, Moment moment = Moment::running);

ParameterValues middle_values(const Circuit& circuit);

} // namespace trivet
