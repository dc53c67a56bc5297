#pragma once

#include "protection/fault_cases.h"

#include <map>
#include <optional>
#include <vector>

namespace trivet {

// The fault cases of a design while they are collected, with the look-ups that collecting them needs.
class CaseList {
public:
    CaseList(const Circuit& of_circuit, const Nets& of_nets, const Design& of_design,
             const std::vector<Actuation>& of_drivers, const OffState& off_state);

    FaultCase& add(FaultMode mode, PartId part, std::uint16_t element);
    FaultCase& add(FaultMode mode, const Branch& branch) { return add(mode, branch.part, branch.element); }

    std::optional<BranchId> branch_of(PartId part, std::uint16_t element) const;
    std::vector<DriverId> driven_by_pin(TerminalRef pin) const;
    std::vector<DriverId> driven_by_board(PartId board) const;
    std::vector<DriverId> led_by_control(std::size_t control) const;
    // What heats or stops by this sensor: by the controls that name it, else by the boards that read it there.
    std::vector<DriverId> led_by_sensor(PartId sensor, const std::vector<TerminalIndex>& ends) const;
    std::vector<BranchId> wires_that_matter() const; // that carry current in some state, or are a sensor's only line

    // All of them, with what passes their command on, to where they heat or to where they do not.
    void force(FaultCase& fault, const std::vector<DriverId>& led, bool heating) const;

    // What a control makes of it when the only wire at an end of a thermistor is off.
    void force_by_open_sensor(FaultCase& wire_open) const;

    const Circuit& circuit;
    const Nets& nets;
    const Design& design;
    const std::vector<Actuation>& actuations;
    const OffState& off;
    std::vector<FaultCase> cases;

private:
    std::optional<std::uint16_t> thermistor_at(TerminalRef end) const; // its element, if one wire alone ends there

    std::vector<std::vector<BranchId>> branch_of_element_; // [part]: its branches by element
    std::vector<std::vector<DriverId>> drivers_of_board_;  // [part]
    std::map<TerminalRef, std::size_t> wires_at_;
};

} // namespace trivet
