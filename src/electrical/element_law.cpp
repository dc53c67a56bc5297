#include "electrical/island.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// Keeps loops of resistance-free branches solvable: as much as 0.06 mm of 1 mm² copper.
constexpr double least_resistance = 1e-6;
// A, from where on a solid-state relay shows its fixed drop.
constexpr double on_voltage_current = 1e-3;
// Slope that constant currents keep, as a share per volt: two of them in series still share the voltage.
constexpr double constant_current_slope = 1e-9;
constexpr double leakage = 1e-12; // S, over a diode
// Beyond this many slopes above the forward voltage the exponential goes on as its tangent.
constexpr double exponential_headroom = 20.0;

struct Fixed {
    double share;
    double slope;
};

Fixed fixed_drop(double current) {
    const double share = current / on_voltage_current;
    return std::abs(share) < 1.0 ? Fixed{share, 1.0 / on_voltage_current} : Fixed{std::copysign(1.0, current), 0.0};
}

double start(const IslandBranch& branch, bool starting) { return starting ? branch.start_factor : 1.0; }

Law diode(const IslandBranch& branch, double forward, double voltage) {
    const double a = branch.slope_voltage;
    const double scale = branch.rated_current / std::expm1(std::max(forward, a) / a);
    const double x = voltage / a;
    const double end = std::max(forward, a) / a + exponential_headroom;
    const double slope = scale * std::exp(std::min(x, end)) / a;
    const double beyond = std::max(x - end, 0.0) * a;
    return {slope * (a + beyond) - scale + leakage * voltage, slope + leakage};
}

// Odd in the voltage: a load the wrong way round is taken to draw as much.
Law constant_power(double power, double knee, double voltage, bool collapsed) {
    if (collapsed || std::abs(voltage) < knee) return {power * voltage / (knee * knee), power / (knee * knee)};
    return {power / voltage, -power / (voltage * voltage)};
}

Law constant_current(double current, double knee, double voltage) {
    if (std::abs(voltage) < knee) return {current * voltage / knee, current / knee};
    const double slope = current * constant_current_slope;
    return {std::copysign(current, voltage) + slope * (voltage - std::copysign(knee, voltage)), slope};
}

// The voltage a converter regulates from: its setting, or what dropout leaves of the input.
Law regulated(const IslandBranch& branch, double setting, double input) {
    const bool needs_headroom = branch.topology == Topology::step_down || branch.topology == Topology::linear;
    const double head = input - branch.dropout;
    if (!needs_headroom || head >= setting) return {setting, 0.0};
    return head > 0.0 ? Law{head, 1.0} : Law{0.0, 0.0};
}

} // namespace

bool drops_by_current(const IslandBranch& branch) {
    if (branch.kind == BranchKind::load) return branch.behaviour == LoadBehaviour::resistance;
    return branch.kind != BranchKind::diode && branch.kind != BranchKind::converter;
}

bool is_linear(const IslandBranch& branch) { return drops_by_current(branch) && branch.kind != BranchKind::transistor; }

bool is_active(const IslandBranch& branch) {
    return branch.kind == BranchKind::source || branch.kind == BranchKind::converter;
}

Law drop(const IslandBranch& branch, const double* values, double current, bool starting) {
    const double* own = values + branch.first_parameter;
    if (branch.kind == BranchKind::source) {
        const double resistance = std::max(own[1], least_resistance);
        return {resistance * current - own[0], resistance};
    }
    const double resistance = std::max(own[0], least_resistance) / start(branch, starting);
    if (branch.kind != BranchKind::transistor) return {resistance * current, resistance};
    const Fixed fixed = fixed_drop(current);
    return {resistance * current + own[1] * fixed.share, resistance + own[1] * fixed.slope};
}

void drop_by_parameter(const IslandBranch& branch, const double* values, double current, bool starting,
                       double* partial) {
    static_cast<void>(values);
    if (branch.kind == BranchKind::source) {
        partial[0] = -1.0;
        partial[1] = current;
        return;
    }
    partial[0] = current / start(branch, starting);
    if (branch.kind == BranchKind::transistor) partial[1] = fixed_drop(current).share;
}

Law drawn(const IslandBranch& branch, const double* values, double voltage, bool starting, bool collapsed) {
    const double own = values[branch.first_parameter];
    if (branch.kind == BranchKind::diode) return diode(branch, own, voltage);
    const double size = own * start(branch, starting);
    return branch.behaviour == LoadBehaviour::constant_power ? constant_power(size, branch.knee, voltage, collapsed)
                                                             : constant_current(size, branch.knee, voltage);
}

void drawn_by_parameter(const IslandBranch& branch, const double* values, double voltage, bool starting, bool collapsed,
                        double* partial) {
    const double own = values[branch.first_parameter];
    if (branch.kind != BranchKind::diode) {
        const double per_unit[1] = {1.0};
        IslandBranch unit = branch;
        unit.first_parameter = 0;
        partial[0] = drawn(unit, per_unit, voltage, starting, collapsed).value;
        return;
    }
    const double a = branch.slope_voltage;
    const double forward = std::max(own, a);
    const double current = diode(branch, own, voltage).value - leakage * voltage;
    partial[0] = own < a ? 0.0 : -current / (a * -std::expm1(-forward / a));
}

ConverterLaw convert(const IslandBranch& branch, const double* values, double input_voltage, double output_current,
                     bool collapsed) {
    const double* own = values + branch.first_parameter;
    const double efficiency = std::clamp(own[1], 0.01, 1.0);
    const double knee = branch.knee;
    const bool below = collapsed || input_voltage < knee;
    const double gate = below ? std::clamp(input_voltage / knee, 0.0, 1.0) : 1.0;
    const double gate_slope = gate > 0.0 && gate < 1.0 ? 1.0 / knee : 0.0;
    const Law set = regulated(branch, own[0], input_voltage);
    const double set_by_setting = set.slope == 0.0 && set.value > 0.0 ? 1.0 : 0.0;
    const double delivered = std::max(output_current, 0.0);
    const double idle_share = below ? std::min(input_voltage / knee, 1.0) : 1.0;
    const double idle_slope = below && input_voltage < knee ? 1.0 / knee : 0.0;

    ConverterLaw law;
    law.output = {set.value * gate, set.slope * gate + set.value * gate_slope};
    law.output_by_parameter[0] = set_by_setting * gate;
    law.input = {own[2] * idle_share, own[2] * idle_slope};
    law.input_by_parameter[2] = idle_share;
    if (branch.topology == Topology::linear) {
        law.input.value += delivered;
        law.input_by_output = output_current > 0.0 ? 1.0 : 0.0;
        return law;
    }
    // Output over input voltage: below the knee both fall together, so the quotient stays finite.
    const double base = below ? knee : input_voltage;
    const double ratio = set.value / base;
    const double ratio_slope = set.slope / base - (below ? 0.0 : ratio / base);
    law.input.value += ratio * delivered / efficiency;
    law.input.slope += ratio_slope * delivered / efficiency;
    law.input_by_output = output_current > 0.0 ? ratio / efficiency : 0.0;
    law.input_by_parameter[0] = set_by_setting / base * delivered / efficiency;
    law.input_by_parameter[1] = -ratio * delivered / (efficiency * efficiency);
    return law;
}

} // namespace trivet
