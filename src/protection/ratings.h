#pragma once

#include "circuit/circuit.h"
#include "design/design.h"
#include "electrical/operating_point.h"
#include "protection/circuit_part.h"

#include <array>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

namespace trivet {

// What may be too much.
enum class Excess : std::uint8_t { current, voltage, output_current, power, pin_voltage };
inline constexpr std::array<std::string_view, 5> excess_names{"current", "voltage", "output current", "power",
                                                              "pin voltage"};

// One limit of a branch or, for pin voltages, of a controller pin.
struct Rating {
    Excess excess{};
    BranchId branch;                // not for pins
    std::optional<TerminalRef> pin; // against its ground
    NodeId from;
    NodeId to;
    double limit = 0.0; // SI
};

// A, of a wire; empty: not known.
using WireRating = std::function<std::optional<double>(WireId)>;

// Every stated limit, by island: absolute voltages of loads (else the end of their working range), of converter inputs
// and pins; rated voltages of heaters and coils; currents of fuses, contacts, cutoffs, transistors, diodes, conductors
// and converter outputs; power of resistors.
std::vector<std::vector<Rating>> ratings_by_island(const Circuit& circuit, const Design& design,
                                                   const WireRating& wire_rating);

// How much of it there is, in the numbers of `split`'s part.
double measured(const Rating& rating, const OperatingPoint& point, const CircuitParts& split);

} // namespace trivet
