#include "electrical/operating_point.h"
#include "electrical/sample.h"

#include <algorithm>

namespace trivet {

ParameterValues middle_values(const Circuit& circuit) {
    ParameterValues values(circuit.parameters.size());
    std::ranges::transform(circuit.parameters, values.begin(),
                           [](const Parameter& parameter) { return 0.5 * (parameter.lo + parameter.hi); });
    return values;
}

tl::expected<OperatingPoint, NoOperatingPoint> solve_dc(const Circuit& circuit, IslandId island_id, const State& state,
                                                        const ParameterValues& values, Moment moment) {
    NodeNumbers numbers(circuit);
    const Island island = numbers.make(circuit, island_id);
    const std::vector<double> own_values = island.values(values);
    const Conditions conditions{.values = own_values.data(), .starting = moment == Moment::starting};
    Solver solver;
    solver.prepare(island, state, circuit);
    Iterate iterate;
    const bool solved = solver.solve(conditions, iterate);
    const int iterations = solver.iterations();
    const double residual = solver.equations().kirchhoff_residual();
    if (const auto collapse = solver.collapse(conditions, iterate, solved)) return tl::unexpected(*collapse);

    OperatingPoint point;
    point.node_voltage.assign(circuit.node_count, 0.0);
    point.branch_current.assign(circuit.branches.size(), 0.0);
    point.output_current.assign(circuit.branches.size(), 0.0);
    point.kirchhoff_residual = residual;
    point.iterations = iterations;
    Sample sample;
    read_sample(solver, conditions, iterate, sample);
    for (std::size_t i = 0; i < island.node_of.size(); ++i)
        point.node_voltage[island.node_of[i].value] = sample.node_voltage[i];
    for (std::size_t i = 0; i < island.branch_of.size(); ++i) {
        point.branch_current[island.branch_of[i].value] = sample.current[i];
        point.output_current[island.branch_of[i].value] = sample.output_current[i];
    }
    return point;
}

} // namespace trivet
