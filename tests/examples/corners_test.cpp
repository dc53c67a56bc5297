#include "electrical/operating_point.h"
#include "support/check_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <random>

namespace trivet::testing {
namespace {

std::vector<std::string> examples() {
    std::vector<std::string> found;
    for (const auto& entry : std::filesystem::directory_iterator(TRIVET_SOURCE_DIR "/examples"))
        if (entry.path().extension() == ".toml") found.push_back(entry.path().string());
    return found;
}

// Corners against chance: whatever values inside their tolerances the parts of an example really have, every current
// and voltage lies between the extremes the corners gave.
class Corners : public ::testing::TestWithParam<std::string> {};

bool inside(double value, const Span& span) {
    const double reach = 1e-9 * std::max({std::abs(span.lowest.value), std::abs(span.highest.value), 1e-3});
    return value >= span.lowest.value - reach && value <= span.highest.value + reach;
}

TEST_P(Corners, HoldTenThousandRandomBuilds) {
    Checked checked;
    check_file(checked, GetParam());
    const Analysis& analysis = *checked.assessment.analysis;
    const Circuit& circuit = analysis.circuit;
    std::mt19937_64 random(20'241);
    constexpr int samples = 10'000;
    for (int sample = 0; sample < samples; ++sample) {
        ParameterValues values(circuit.parameters.size());
        for (std::size_t i = 0; i < values.size(); ++i) {
            const Parameter& parameter = circuit.parameters[i];
            values[i] =
                std::uniform_real_distribution<double>(parameter.lo, std::nextafter(parameter.hi, INFINITY))(random);
        }
        const std::size_t pick =
            std::uniform_int_distribution<std::size_t>(0, analysis.states.states.size() - 1)(random);
        const State& state = analysis.states.states[pick];
        const auto point = solve_dc(circuit, state.island, state, values);
        ASSERT_TRUE(point);
        ASSERT_LT(point->kirchhoff_residual, 1e-9);
        for (const BranchId id : circuit.branches_of_island[state.island.value]) {
            const Branch& branch = circuit.branches[id.value];
            const double volts = point->node_voltage[branch.from.value] - point->node_voltage[branch.to.value];
            ASSERT_TRUE(inside(point->branch_current[id.value], analysis.envelope.current[id.value]))
                << "current of branch " << id.value << ": " << point->branch_current[id.value] << " outside "
                << analysis.envelope.current[id.value].lowest.value << " .. "
                << analysis.envelope.current[id.value].highest.value;
            ASSERT_TRUE(inside(volts, analysis.envelope.voltage[id.value]))
                << "voltage of branch " << id.value << ": " << volts << " outside "
                << analysis.envelope.voltage[id.value].lowest.value << " .. "
                << analysis.envelope.voltage[id.value].highest.value;
        }
    }
}

TEST_P(Corners, KeepKirchhoffsLaws) {
    Checked checked;
    check_file(checked, GetParam());
    EXPECT_LT(checked.assessment.analysis->envelope.worst_kirchhoff_residual, 1e-9);
    EXPECT_GT(checked.assessment.analysis->envelope.solutions, 0U);
}

INSTANTIATE_TEST_SUITE_P(Examples, Corners, ::testing::ValuesIn(examples()),
                         [](const ::testing::TestParamInfo<std::string>& example) {
                             std::string name = std::filesystem::path(example.param).stem().string();
                             std::erase(name, '-');
                             return name;
                         });

} // namespace
} // namespace trivet::testing
