#pragma once

#include "electrical/newton.h"

namespace trivet {

// Everything of an island at one solution, in the island's own numbering and the sign rules of Branch.
struct Sample {
    std::vector<double> node_voltage;
    std::vector<double> current;        // [own branch]; converters: input
    std::vector<double> voltage;        // [own branch]: from - to, also over open switches
    std::vector<double> output_current; // [own branch]; 0 for all but converters
    std::vector<double> output_voltage;
};

void read_sample(const Solver& solver, const Conditions& conditions, const Iterate& iterate, Sample& sample);

} // namespace trivet
