#include "assess/analysis.h"

#include "assess/heat_inputs.h"
#include "assess/pin_on_net.h"
#include "circuit/paths.h"
#include "circuit/union_find.h"
#include "electrical/conductor.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <deque>
#include <string_view>

namespace trivet {

namespace {

bool takes_power(const Branch& branch) {
    return branch.kind == BranchKind::load || branch.kind == BranchKind::heater || branch.kind == BranchKind::coil ||
           branch.kind == BranchKind::converter;
}

IslandId island_of(const Circuit& circuit, const Branch& branch) { return circuit.island_of_node[branch.from.value]; }

// Nodes that wires, fuses and closed switches join: what lies on one side of the loads.
UnionFind sides_of_loads(const Circuit& circuit) {
    UnionFind sides(circuit.node_count);
    for (const Branch& branch : circuit.branches)
        if (carries_power(branch) && branch.kind != BranchKind::source && branch.kind != BranchKind::converter)
            sides.join(branch.from.value, branch.to.value);
    return sides;
}

// Outgoing and return conductor together: what the feeding supply shows at its own terminals, less what the load gets.
// A heater or lamp may as well have its second end on the plus side.
ProbeOf drop_over_line(const Circuit& circuit, UnionFind& sides, BranchId load, BranchId feeder) {
    const Branch& to = circuit.branches[load.value];
    const Branch& by = circuit.branches[feeder.value];
    const bool from_output = by.kind == BranchKind::converter;
    const NodeId plus = from_output ? by.output_from : by.from;
    const NodeId minus = from_output ? by.output_to : by.to;
    const auto joined = [&](NodeId a, NodeId b) { return sides.find(a.value) == sides.find(b.value); };
    const bool turned = !joined(plus, minus) && ((joined(to.to, plus) && !joined(to.from, plus)) ||
                                                 (joined(to.from, minus) && !joined(to.to, minus)));
    const double sign = turned ? -1.0 : 1.0;
    return {.probe = {{{plus, 1.0}, {minus, -1.0}, {to.from, -sign}, {to.to, sign}}},
            .while_on = load,
            .island = island_of(circuit, to)};
}

// A two-terminal sensor's ground is its end on the board's ground net, when its other end is read by a pin.
std::optional<SensorGround> thermistor_ground(const Design& design, const Circuit& circuit, const Nets& nets,
                                              PartId part, const ThermistorElement& sensor) {
    const std::array ends{std::pair{sensor.between.first, sensor.between.second},
                          std::pair{sensor.between.second, sensor.between.first}};
    for (const auto& [read, grounded] : ends) {
        const auto reader = pin_on_net(design, nets, nets.net(circuit, {part, read}), part);
        if (!reader) continue;
        const TerminalRef ground{reader->board, reader->pin->ground};
        if (nets.net(circuit, {part, grounded}) == nets.net(circuit, ground))
            return SensorGround{part, circuit.node({part, grounded}), circuit.node(ground), 0};
    }
    return std::nullopt;
}

std::vector<SensorGround> find_sensors(const Design& design, const Circuit& circuit, const Nets& nets) {
    std::vector<SensorGround> found;
    for (std::uint32_t i = 0; i < design.parts.size(); ++i) {
        for (const Element& element : design.parts[i].part->elements) {
            std::optional<SensorGround> sensor;
            if (const auto* signal = std::get_if<SignalElement>(&element.body)) {
                if (const auto reader = pin_on_net(design, nets, nets.net(circuit, {{i}, signal->terminal}), {i}))
                    sensor = SensorGround{{i},
                                          circuit.node({{i}, signal->ground}),
                                          circuit.node({reader->board, reader->pin->ground}),
                                          0};
            } else if (const auto* thermistor = std::get_if<ThermistorElement>(&element.body)) {
                sensor = thermistor_ground(design, circuit, nets, {i}, *thermistor);
            }
            if (sensor) {
                found.push_back(*sensor);
                break;
            }
        }
    }
    return found;
}

// The word that states the number a branch's current hangs on.
std::string_view deciding_key(const Design& design, const Branch& branch) {
    if (branch.kind == BranchKind::source) return "voltage";
    if (branch.kind != BranchKind::load) return "resistance";
    const auto& load = std::get<LoadElement>(design.part(branch.part).part->elements[branch.element].body);
    constexpr std::array keys{std::string_view("current"), std::string_view("power"), std::string_view("resistance")};
    return keys[static_cast<std::size_t>(load.behaviour)];
}

bool decides_voltage(BranchKind kind) { return kind == BranchKind::source; }

bool decides_current(BranchKind kind) {
    return kind == BranchKind::source || kind == BranchKind::heater || kind == BranchKind::load ||
           kind == BranchKind::coil;
}

std::vector<Unknown> find_gaps(const Design& design, const Circuit& circuit, bool (*decides)(BranchKind)) {
    std::vector<Unknown> gaps(circuit.island_count);
    for (const Branch& branch : circuit.branches) {
        if (!decides(branch.kind) || circuit.parameters[branch.first_parameter].stated) continue;
        const std::string& name = design.part(branch.part).name;
        gaps[island_of(circuit, branch).value].missing.push_back(
            fmt::format("{} of {} (state it in [part.{}])", deciding_key(design, branch), name, name));
    }
    return gaps;
}

// What a short circuit draws is unknown behind a supply without a stated limit or a battery without a resistance.
std::vector<Unknown> find_limit_gaps(const Design& design, const Circuit& circuit) {
    std::vector<Unknown> gaps(circuit.island_count);
    for (const Branch& branch : circuit.branches) {
        if (branch.kind != BranchKind::source && branch.kind != BranchKind::converter) continue;
        const PartUse& use = design.part(branch.part);
        const ElementBody& body = use.part->elements[branch.element].body;
        std::string_view key;
        if (const auto* source = std::get_if<SourceElement>(&body)) {
            const bool limited = source->limit_current || source->limit_mode == LimitMode::none;
            if (source->is_battery && !source->limit_current && !source->internal_resistance)
                key = "internal_resistance";
            else if (!source->is_battery && !limited)
                key = "limit_current";
        } else if (!std::get<ConverterElement>(body).limit_current) {
            key = "limit_current";
        }
        if (key.empty()) continue;
        gaps[island_of(circuit, branch).value].missing.push_back(
            fmt::format("{} of {} (state it in [part.{}])", key, use.name, use.name));
    }
    return gaps;
}

struct Step {
    std::uint32_t to = 0;
    double rise = 0.0;
};

// From each node to its neighbours, with the voltage gained on the way when nothing is loaded.
std::vector<std::vector<Step>> unloaded_steps(const Circuit& circuit) {
    std::vector<std::vector<Step>> steps(circuit.node_count);
    const auto join = [&](NodeId low, NodeId high, double rise) {
        steps[low.value].push_back({high.value, rise});
        steps[high.value].push_back({low.value, -rise});
    };
    for (const Branch& branch : circuit.branches) {
        const double rated = branch.parameters == 0 ? 0.0 : circuit.parameters[branch.first_parameter].hi;
        if (branch.kind == BranchKind::source)
            join(branch.to, branch.from, rated);
        else if (branch.kind == BranchKind::converter)
            join(branch.output_to, branch.output_from, rated);
        else if (carries_power(branch))
            join(branch.to, branch.from, 0.0);
    }
    return steps;
}

} // namespace

std::vector<Voltage> highest_voltages(const Circuit& circuit) {
    const auto steps = unloaded_steps(circuit);
    std::vector<Voltage> span(circuit.island_count);
    std::vector<bool> seen(circuit.node_count, false);
    for (std::uint32_t start = 0; start < circuit.node_count; ++start) {
        if (seen[start]) continue;
        double lowest = 0.0;
        double highest = 0.0;
        std::deque<Step> queue{{start, 0.0}};
        seen[start] = true;
        while (!queue.empty()) {
            const Step here = queue.front();
            queue.pop_front();
            lowest = std::min(lowest, here.rise);
            highest = std::max(highest, here.rise);
            for (const Step& step : steps[here.to]) {
                if (seen[step.to]) continue;
                seen[step.to] = true;
                queue.push_back({step.to, here.rise + step.rise});
            }
        }
        Voltage& of_island = span[circuit.island_of_node[start].value];
        of_island.si = std::max(of_island.si, highest - lowest);
    }
    return span;
}

Analysis analyse(const Design& design, const Policy& policy, const Handbook& handbook) {
    Analysis result;
    result.circuit =
        build_circuit(design, [&](const WireElement& wire) { return resistance_per_length(wire, handbook); });
    const Circuit& circuit = result.circuit;
    result.highest_voltage = highest_voltages(circuit);
    result.states = reachable_states(circuit, design);
    result.nets = find_nets(circuit, design);
    result.sensors = find_sensors(design, circuit, result.nets);

    std::vector<ProbeOf> probes;
    UnionFind sides = sides_of_loads(circuit);
    result.branches_of_part.resize(design.parts.size());
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i)
        if (circuit.branches[i].kind != BranchKind::wire)
            result.branches_of_part[circuit.branches[i].part.value].push_back({i});
    result.unfused = unfused_runs(circuit, design);
    result.gaps = find_gaps(design, circuit, decides_current);
    result.voltage_gaps = find_gaps(design, circuit, decides_voltage);
    result.limit_gaps = find_limit_gaps(design, circuit);
    result.interrupters.resize(circuit.branches.size());
    result.loads_behind.resize(circuit.branches.size());
    result.feeders.resize(circuit.branches.size());
    result.drop_probe.resize(circuit.branches.size());
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        if (!takes_power(circuit.branches[i])) continue;
        result.interrupters[i] = interrupters_of(circuit, {i});
        for (const BranchId interrupter : result.interrupters[i]) result.loads_behind[interrupter.value].push_back({i});
        result.feeders[i] = feeders_of(circuit, {i});
        if (result.feeders[i].size() != 1) continue;
        result.drop_probe[i] = probes.size();
        probes.push_back(drop_over_line(circuit, sides, {i}, result.feeders[i].front()));
    }
    for (SensorGround& sensor : result.sensors) {
        sensor.probe = probes.size();
        probes.push_back({.probe = {{{sensor.at_sensor, 1.0}, {sensor.at_board, -1.0}}},
                          .while_on = {},
                          .island = circuit.island_of_node[sensor.at_board.value]});
    }
    result.envelope = operating_envelope(circuit, result.states, probes);
    result.faults = prospective_faults(circuit, design, handbook);
    result.protection = judge_protection(circuit, design);
    result.actuations = actuations_of_drivers(circuit, result.nets, design);
    result.off = heaters_off(circuit, design, result.actuations);
    result.breaches = find_breaches(circuit, design, result.actuations, result.off);
    result.detours = return_detours(circuit);
    result.heat_inputs = heat_inputs(design, result, policy);
    result.heat = study_heat(design, result.heat_inputs);
    return result;
}

} // namespace trivet
