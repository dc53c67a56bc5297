#pragma once

#include "circuit/circuit.h"
#include "circuit/state.h"

#include <algorithm>
#include <initializer_list>
#include <string>
#include <utility>

namespace trivet::testing {

// Builds a Circuit without a design: node 0 is the first supply's minus. One island unless islands are asked for.
class HandCircuit {
public:
    Circuit circuit;

    BranchId source(std::uint32_t plus, std::uint32_t minus, Parameter voltage, Parameter internal = {}) {
        return add(between(BranchKind::source, plus, minus),
                   {{"supply voltage", voltage}, {"supply resistance", internal}});
    }
    BranchId resistive(BranchKind kind, std::uint32_t from, std::uint32_t to, Parameter ohms) {
        return add(between(kind, from, to), {{"resistance", ohms}});
    }
    BranchId resistor(std::uint32_t from, std::uint32_t to, Parameter ohms) {
        return resistive(BranchKind::resistor, from, to, ohms);
    }
    BranchId wire(std::uint32_t from, std::uint32_t to, Parameter ohms = {}) {
        return resistive(BranchKind::wire, from, to, ohms);
    }
    BranchId heater(std::uint32_t from, std::uint32_t to, Parameter ohms, double cold_factor = 1.0) {
        const BranchId id = resistive(BranchKind::heater, from, to, ohms);
        circuit.branches[id.value].start_factor = cold_factor;
        return id;
    }
    BranchId load(std::uint32_t from, std::uint32_t to, LoadBehaviour behaviour, Parameter size, double volts) {
        Branch branch = between(BranchKind::load, from, to);
        branch.behaviour = behaviour;
        branch.working_voltage = volts;
        return add(branch, {{"load", size}});
    }
    BranchId diode(std::uint32_t anode, std::uint32_t cathode, Parameter forward) {
        return add(between(BranchKind::diode, anode, cathode), {{"diode voltage", forward}});
    }
    BranchId contact(std::uint32_t from, std::uint32_t to, Parameter ohms = {}) {
        const BranchId id = resistive(BranchKind::contact, from, to, ohms);
        const auto driver = static_cast<std::uint32_t>(circuit.drivers.size());
        circuit.branches[id.value].driver = DriverId{driver};
        circuit.drivers.emplace_back().name = "switch_" + std::to_string(driver + 1);
        return id;
    }
    struct Converter {
        Parameter volts;
        Parameter efficiency{1.0, 1.0};
        Parameter quiescent{};
        Topology topology = Topology::step_down;
        double lowest_input = 7.0;
        double dropout = 0.0;
    };
    BranchId converter(std::pair<std::uint32_t, std::uint32_t> input, std::pair<std::uint32_t, std::uint32_t> output,
                       const Converter& made) {
        Branch branch = between(BranchKind::converter, input.first, input.second);
        branch.output_from = {output.first};
        branch.output_to = {output.second};
        branch.topology = made.topology;
        branch.working_voltage = made.lowest_input;
        branch.dropout = made.dropout;
        return add(branch, {{"converter output", made.volts},
                            {"converter efficiency", made.efficiency},
                            {"converter quiescent current", made.quiescent}});
    }

    // One more parameter of the branch added last.
    void add_parameter(const char* name, Parameter value) {
        ++circuit.branches.back().parameters;
        circuit.parameter_names.emplace_back(name);
        circuit.parameters.push_back(value);
    }

    // Closes the book: all branches form one island.
    const Circuit& done() {
        circuit.island_count = 1;
        circuit.island_of_node.assign(circuit.node_count, IslandId{0});
        circuit.branches_of_island.assign(1, {});
        for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) circuit.branches_of_island[0].push_back({i});
        return circuit;
    }

    // Every combination of the switches.
    StateSet all_states() const {
        StateSet set;
        set.of_island.resize(1);
        for (std::uint32_t bits = 0; bits < (1U << circuit.drivers.size()); ++bits) {
            State state;
            for (std::uint32_t i = 0; i < circuit.drivers.size(); ++i)
                if ((bits >> i & 1U) != 0) state.on.push_back({i});
            set.of_island[0].push_back(bits);
            set.states.push_back(state);
        }
        return set;
    }

private:
    static Branch between(BranchKind kind, std::uint32_t from, std::uint32_t to) {
        Branch branch;
        branch.kind = kind;
        branch.from = {from};
        branch.to = {to};
        return branch;
    }
    BranchId add(Branch branch, std::initializer_list<std::pair<const char*, Parameter>> parameters) {
        for (const NodeId node : {branch.from, branch.to, branch.output_from, branch.output_to})
            circuit.node_count = std::max(circuit.node_count, node.value + 1);
        branch.first_parameter = static_cast<std::uint32_t>(circuit.parameters.size());
        branch.parameters = static_cast<std::uint8_t>(parameters.size());
        for (const auto& [name, value] : parameters) {
            circuit.parameter_names.emplace_back(name);
            circuit.parameters.push_back(value);
        }
        circuit.branches.push_back(branch);
        return {static_cast<std::uint32_t>(circuit.branches.size() - 1)};
    }
};

inline Parameter exactly(double value) { return {value, value}; }

} // namespace trivet::testing
