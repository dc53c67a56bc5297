#pragma once

#include "circuit/circuit.h"
#include "circuit/state.h"

#include <cstdint>
#include <span>
#include <vector>

namespace trivet {

inline constexpr std::uint32_t nowhere = 0xffffffff;

// A branch of one island with the island's own numbers for nodes and parameters.
struct IslandBranch {
    BranchKind kind{};
    LoadBehaviour behaviour{};
    Topology topology{};
    std::uint32_t from = 0;
    std::uint32_t to = 0;
    std::uint32_t output_from = nowhere; // converters
    std::uint32_t output_to = nowhere;
    std::uint32_t first_parameter = 0; // into Island::values
    std::uint32_t parameters = 0;
    double start_factor = 1.0;
    double knee = 0.0;          // V below which a load or converter no longer draws what it is meant to
    double nominal = 0.0;       // V, loads: where the first guess of their current is taken
    double dropout = 0.0;       // V
    double slope_voltage = 0.0; // V, diodes: n·k·T/q
    double rated_current = 1.0; // A, diodes
};

// One island copied out of the circuit, numbered from 0, so that nothing in the solver depends on the circuit's size.
struct Island {
    IslandId id;
    std::vector<BranchId> branch_of; // own branch -> circuit
    std::vector<NodeId> node_of;     // own node -> circuit
    std::vector<IslandBranch> branches;
    std::vector<std::uint32_t> parameter_of; // own parameter -> circuit
    std::vector<Parameter> parameters;
    std::vector<std::uint32_t> branch_of_parameter;
    std::vector<std::uint32_t> ranged; // own parameters whose ends differ

    std::vector<double> values(const std::vector<double>& of_circuit) const;
    std::vector<double> middle() const;
};

// The circuit's nodes in an island's numbering; made once for a circuit, reused for island after island.
class NodeNumbers {
public:
    explicit NodeNumbers(const Circuit& circuit)
        : number_(circuit.node_count, nowhere) {}
    std::uint32_t of(NodeId node) const { return number_[node.value]; } // nowhere: not of the last island made
    Island make(const Circuit& circuit, IslandId island);

private:
    std::uint32_t number(NodeId node, Island& island);
    std::vector<std::uint32_t> number_;
    std::vector<NodeId> used_;
};

// A voltage or a current and how steeply it follows the other one.
struct Law {
    double value = 0.0;
    double slope = 0.0;
};

// Whether the voltage over a branch follows from its current (sources, everything resistive) or the other way round
// (diodes, loads of constant current or power, converter inputs).
bool drops_by_current(const IslandBranch& branch);
bool is_linear(const IslandBranch& branch);
bool is_active(const IslandBranch& branch); // a source, or a converter by its output

// In the direction of `from` to `to`, but for sources `to` to `from`: the direction in which the current counts
// positive.
Law drop(const IslandBranch& branch, const double* values, double current, bool starting);
void drop_by_parameter(const IslandBranch& branch, const double* values, double current, bool starting,
                       double* partial);

// `collapsed`: the load is held on the branch of its characteristic below the knee.
Law drawn(const IslandBranch& branch, const double* values, double voltage, bool starting, bool collapsed);
void drawn_by_parameter(const IslandBranch& branch, const double* values, double voltage, bool starting, bool collapsed,
                        double* partial);

struct ConverterLaw {
    Law output;                      // V, over input voltage
    Law input;                       // A, over input voltage
    double input_by_output = 0.0;    // A/A
    double output_by_parameter[3]{}; // output voltage, efficiency, quiescent current
    double input_by_parameter[3]{};
};
ConverterLaw convert(const IslandBranch& branch, const double* values, double input_voltage, double output_current,
                     bool collapsed);

} // namespace trivet
