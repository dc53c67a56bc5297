#pragma once

#include "assess/unfused_run.h"
#include "circuit/circuit.h"
#include "circuit/nets.h"
#include "circuit/state.h"
#include "design/design.h"
#include "electrical/envelope.h"
#include "electrical/fault_current.h"
#include "expr/value.h"
#include "protection/breaches.h"
#include "protection/off_state.h"
#include "protection/protection.h"
#include "protection/return_detours.h"
#include "rules/policy.h"
#include "tables/table.h"
#include "thermal/heat_study.h"

#include <map>
#include <optional>
#include <vector>

namespace trivet {

// A sensor seen from the board that reads it: its ground terminal and the board's.
struct SensorGround {
    PartId sensor;
    NodeId at_sensor;
    NodeId at_board;
    std::size_t probe = 0;
};

// Everything computed from a design before any rule is asked.
struct Analysis {
    Circuit circuit;
    StateSet states;
    std::vector<Voltage> highest_voltage; // [island], nothing loaded
    Nets nets;
    std::vector<std::vector<BranchId>> branches_of_part; // [part]
    std::map<std::uint32_t, UnfusedRun> unfused;         // by source branch
    std::vector<Unknown> gaps;                           // [island]: unstated numbers on which all its currents depend
    std::vector<Unknown> voltage_gaps;                   // [island]: supplies whose voltage nobody stated
    std::vector<Unknown> limit_gaps;                     // [island]: supplies that state no limit for a short circuit
    std::vector<std::vector<BranchId>> interrupters; // [branch]: what turns it off; loads, heaters, coils, converters
    std::vector<std::vector<BranchId>> loads_behind; // [branch]: the loads whose whole current passes it
    std::vector<std::vector<BranchId>> feeders;      // [branch]: what feeds it; the same kinds
    std::vector<std::optional<std::size_t>>
        drop_probe; // [branch]: its voltage drop over the line, if one supply feeds it
    std::vector<SensorGround> sensors;
    Envelope envelope;
    FaultCurrents faults;
    std::vector<HeaterProtection> protection;
    std::vector<Actuation> actuations; // [driver]
    OffState off;
    std::vector<Breach> breaches;
    std::vector<ReturnDetour> detours;
    HeatInputs heat_inputs;
    HeatStudy heat;
};

Analysis analyse(const Design& design, const Policy& policy, const Handbook& handbook);

// Per island, the highest voltage between any two points with nothing loaded: potentials added up along sources.
std::vector<Voltage> highest_voltages(const Circuit& circuit);

} // namespace trivet
