#pragma once

#include "electrical/corners.h"
#include "electrical/sample.h"
#include "electrical/sensitivity.h"

namespace trivet {

inline constexpr std::uint32_t any_corner = nowhere; // all parameters in the middle, or none that matters

struct Best {
    double value = 0.0;
    std::uint32_t corner = any_corner;
    bool taken = false;
};

// `direction` 1: higher is better, -1: lower. Differences within rounding are none.
bool is_better(double value, const Best& best, double direction);

struct LowHigh {
    Best lowest;
    Best highest;

    void include(double value, std::uint32_t corner);
};

using ProbeTerms = std::vector<std::pair<std::uint32_t, double>>; // own nodes

// The extremes of one island in one state.
struct StateExtremes {
    std::uint32_t state = 0;  // index into StateSet::states
    std::vector<char> closed; // [own branch]
    bool middle_solved = false;
    std::vector<double> middle_voltage; // [own branch]
    std::vector<LowHigh> current;       // [own branch]
    std::vector<LowHigh> voltage;
    std::vector<LowHigh> output_current;
    std::vector<LowHigh> output_voltage;
    std::vector<LowHigh> start_current;
    std::vector<LowHigh> probe;
    Corners corners;
    struct Collapsed {
        NoOperatingPoint why;
        std::uint32_t corner = any_corner;
    };
    std::vector<Collapsed> collapses; // once per branch, the worst
    double kirchhoff_residual = 0.0;
    std::size_t solutions = 0;
    bool is_bound = false;
};

// Finds the extremes of one state after the other; all memory is reused.
class StateSearch {
public:
    void run(const Circuit& circuit, const Island& island, const State& state, const std::vector<ProbeTerms>& probes,
             std::size_t grouped_above, StateExtremes& found);

private:
    // Something whose corners are looked for. Everything else is read off at the same solutions.
    struct Tracked {
        enum class What : std::uint8_t { edge_current, edge_voltage, link_voltage, open_switch, probe };
        What what{};
        std::uint32_t index = 0;
    };
    struct Wish {
        std::uint32_t tracked;
        std::uint32_t corner;
        bool highest;
    };

    bool solve(std::uint32_t corner, bool starting);
    void include(std::uint32_t corner);
    void record(const NoOperatingPoint& why, std::uint32_t corner);
    void list_tracked();
    const std::vector<double>& sensitivity(const Tracked& tracked);
    double value(const Tracked& tracked) const;
    bool is_bounded(const Tracked& tracked);
    void bound_voltages();
    void wish_at_middle();
    void solve_wishes();
    void check_signs(std::uint32_t corner);
    void claim(const Wish& wish);
    void solve_starting();

    const Island* island_ = nullptr;
    const std::vector<ProbeTerms>* probes_ = nullptr;
    StateExtremes* found_ = nullptr;
    Solver solver_;
    Sensitivity sensitivity_;
    Conditions conditions_;
    std::vector<double> middle_values_;
    std::vector<double> values_;
    Iterate middle_;
    Iterate here_;
    bool middle_solved_ = false;
    Sample sample_;
    std::vector<Tracked> tracked_;
    std::vector<Wish> wishes_;
    std::vector<std::uint32_t> bounded_; // own branches whose voltage is bounded by resistance times current
};

} // namespace trivet
