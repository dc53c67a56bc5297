#pragma once

#include "circuit/nets.h"
#include "protection/fault_cases.h"
#include "support/circuit_of.h"

#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// A controller board: fed at 5V and GND, three pins and one analogue input.
inline PartId add_board(DesignBuilder& build, const std::string& name) {
    LoadElement electronics;
    electronics.between = ends(0, 1);
    electronics.category = LoadCategory::electronics;
    electronics.current = amperes(0.1);
    electronics.voltage = volts(4.5, 5.5);
    electronics.voltage_limit = volts(6.0);
    std::vector<ElementBody> elements{electronics};
    for (const std::uint16_t terminal : {std::uint16_t{2}, std::uint16_t{3}, std::uint16_t{4}, std::uint16_t{5}}) {
        PinElement pin;
        pin.terminal = {terminal};
        pin.ground = {1};
        pin.supply = {0};
        pin.input_limit = volts(5.5);
        elements.push_back(pin);
    }
    return build.part(name, {"5V", "GND", "IO1", "IO2", "IO3", "AIN"}, elements);
}

// A relay module: logic input, contact A B closed when on.
inline PartId add_relay_module(DesignBuilder& build, const std::string& name, const std::string& when_open = "off") {
    ContactElement contact;
    contact.between = ends(0, 1);
    contact.driven_by = "IN";
    InputElement input;
    input.terminal = {4};
    input.reference = {3};
    input.when_open = when_open;
    LoadElement logic;
    logic.between = ends(2, 3);
    logic.current = amperes(0.08);
    logic.voltage = volts(4.5, 5.5);
    return build.part(name, {"A", "B", "VCC", "GND", "IN"}, {contact, input, logic});
}

inline PartId add_thermistor(DesignBuilder& build, const std::string& name, SensorCurve curve) {
    ThermistorElement sensor;
    sensor.between = ends(0, 1);
    sensor.curve = curve;
    sensor.resistance = ohms(10e3);
    return build.part(name, {"a", "b"}, {sensor});
}

inline PartId add_thermostat(DesignBuilder& build, const std::string& name, double opens_at = 353.15) {
    CutoffElement element;
    element.between = ends(0, 1);
    element.reset = CutoffReset::self;
    element.resistance = ohms(0.0);
    element.trip = given<dim::temperature>(opens_at, opens_at);
    return build.part(name, {"in", "out"}, {element});
}

inline void add_control(DesignBuilder& build, const std::string& name, std::string_view senses,
                        const std::vector<std::string_view>& drives) {
    Control made;
    made.name = name;
    if (!senses.empty()) made.senses.push_back(build.part_called(senses));
    for (const std::string_view driven : drives) made.drives.push_back(build.part_called(driven));
    build.design().controls.push_back(made);
}

// Supply, converter and board, with the board's supply wired.
inline void add_logic(DesignBuilder& build) {
    build.supply("supply", volts(23.0, 25.0));
    build.converter("buck", Topology::step_down, volts(8.0, 30.0), volts(5.0), number(0.9));
    add_board(build, "board");
    build.wires({"supply.+ -> buck.in+", "supply.- -> buck.in-", "buck.out+ -> board.5V", "buck.out- -> board.GND"});
}

// Everything that is traced before faults are studied.
struct Traced {
    explicit Traced(const DesignBuilder& build)
        : design(build.design())
        , circuit(circuit_of(build))
        , nets(find_nets(circuit, design))
        , actuations(actuations_of_drivers(circuit, nets, design))
        , off(heaters_off(circuit, design, actuations))
        , cases(fault_cases(circuit, nets, design, actuations, off)) {}

    const Actuation& actuation(std::string_view driver) const {
        for (std::size_t i = 0; i < actuations.size(); ++i)
            if (circuit.drivers[i].name == driver) return actuations[i];
        throw std::invalid_argument("no driver " + std::string(driver));
    }
    std::string parts(const std::vector<PartId>& list) const {
        std::string text;
        for (const PartId part : list) text += (text.empty() ? "" : " ") + design.part(part).name;
        return text;
    }
    std::string parts(const std::vector<BranchId>& list) const {
        std::vector<PartId> owners;
        for (const BranchId id : list) owners.push_back(circuit.branches[id.value].part);
        return parts(owners);
    }
    const FaultCase* find(std::string_view description) const {
        for (const FaultCase& fault : cases)
            if (describe(fault, design) == description) return &fault;
        return nullptr;
    }
    // "relay on, fan off"
    std::string forced(const FaultCase& fault) const {
        std::string text;
        for (const ForcedDriver& f : fault.forced)
            text += (text.empty() ? "" : ", ") + circuit.drivers[f.driver.value].name + (f.on ? " on" : " off");
        return text;
    }

    Design design;
    Circuit circuit;
    Nets nets;
    std::vector<Actuation> actuations;
    OffState off;
    std::vector<FaultCase> cases;
};

} // namespace trivet
