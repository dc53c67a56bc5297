#include "electrical/hand_circuit.h"
#include "electrical/operating_point.h"

#include <Eigen/Dense>
#include <gtest/gtest.h>

#include <random>

namespace trivet {
namespace {

using testing::exactly;
using testing::HandCircuit;

// Plain nodal analysis, written independently of the program: node 0 is the reference, sources are replaced by their
// Norton equivalents. Resistances are the last parameter of each branch.
Eigen::VectorXd nodal_voltages(const Circuit& circuit) {
    const auto n = static_cast<Eigen::Index>(circuit.node_count);
    Eigen::MatrixXd conductance = Eigen::MatrixXd::Zero(n, n);
    Eigen::VectorXd injected = Eigen::VectorXd::Zero(n);
    for (const Branch& branch : circuit.branches) {
        const auto a = static_cast<Eigen::Index>(branch.from.value);
        const auto b = static_cast<Eigen::Index>(branch.to.value);
        const double g = 1.0 / circuit.parameters[branch.first_parameter + branch.parameters - 1U].lo;
        conductance(a, a) += g;
        conductance(b, b) += g;
        conductance(a, b) -= g;
        conductance(b, a) -= g;
        if (branch.kind != BranchKind::source) continue;
        injected(a) += g * circuit.parameters[branch.first_parameter].lo;
        injected(b) -= g * circuit.parameters[branch.first_parameter].lo;
    }
    Eigen::VectorXd voltages = Eigen::VectorXd::Zero(n);
    voltages.tail(n - 1) =
        conductance.bottomRightCorner(n - 1, n - 1).partialPivLu().solve(injected.tail(n - 1)).eval();
    return voltages;
}

HandCircuit random_network(std::mt19937& random) {
    const auto number = [&](std::uint32_t lo, std::uint32_t hi) {
        return std::uniform_int_distribution<std::uint32_t>(lo, hi)(random);
    };
    const auto between = [&](double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(random); };
    const auto ohms = [&] { return exactly(std::pow(10.0, between(-2.0, 3.0))); };
    HandCircuit made;
    const std::uint32_t nodes = number(3, 30);
    made.source(1, 0, exactly(between(3.0, 48.0)), ohms());
    for (std::uint32_t node = 2; node < nodes; ++node) made.resistor(number(0, node - 1), node, ohms());
    for (std::uint32_t extra = number(2, 40); extra > 0; --extra) {
        const std::uint32_t from = number(0, nodes - 1);
        const std::uint32_t to = (from + number(1, nodes - 1)) % nodes;
        if (number(0, 9) == 0)
            made.source(from, to, exactly(between(1.0, 48.0)), ohms());
        else
            made.resistor(from, to, ohms());
    }
    return made;
}

// Reference: dense LU of Eigen on 300 random networks.
TEST(SolveRandom, LinearNetworksAgreeWithADenseReference) {
    std::mt19937 random(7);
    for (int round = 0; round < 300; ++round) {
        SCOPED_TRACE(round);
        HandCircuit made = random_network(random);
        const Circuit& circuit = made.done();
        const auto point = solve_dc(circuit, {0}, {}, middle_values(circuit));
        ASSERT_TRUE(point.has_value());
        EXPECT_LT(point->kirchhoff_residual, 1e-9);
        const Eigen::VectorXd expected = nodal_voltages(circuit);
        const double largest = expected.cwiseAbs().maxCoeff();
        for (std::uint32_t node = 0; node < circuit.node_count; ++node)
            EXPECT_NEAR(point->node_voltage[node] - point->node_voltage[0], expected(static_cast<Eigen::Index>(node)),
                        1e-9 * largest)
                << "node " << node;
    }
}

} // namespace
} // namespace trivet
