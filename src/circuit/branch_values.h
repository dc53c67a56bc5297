#pragma once

#include "catalog/element.h"
#include "circuit/circuit.h"

#include <array>
#include <cstddef>
#include <string_view>

namespace trivet {

// The uncertain numbers of one branch, in the order that Branch lists them, and what each is called in a corner's label
// ("resistance" of "plate resistance").
struct BranchValues {
    struct Named {
        std::string_view quantity;
        Parameter parameter;
    };
    std::array<Named, 3> named{};
    std::size_t count = 0;
    double start_factor = 1.0;

    void add(std::string_view quantity, Parameter parameter) { named[count++] = {quantity, parameter}; }
};

// Empty for elements that are no branch. What is not stated gets a stand-in, marked so (common practice, no source): a
// fuse drops 0.05 V at its rated current, contacts and cutoffs have up to 50 mohm, batteries 20 mohm, converters 80 to
// 95 %; heaters, coils and loads of unknown size carry next to nothing.
BranchValues branch_values(const ElementBody& body);

// A temperature sensor where it is used: its resistance over the air around it, or, on a heater or a body, over its
// whole working range, as far as its curve is known there (catalog/sensor_curve.h); otherwise what is stated for it.
BranchValues sensor_values(const ThermistorElement& sensor, Range<dim::temperature> air, bool heated);

// R = R20 * length * (1 + 0.00393 (T - 20 °C)) of copper (IEC 60228 annex A), T from the coldest air along the wire to
// what its insulation bears (70 °C if that is not stated); 0 ohm, marked as not stated, if area or length are unknown.
Parameter wire_resistance(const Wire& wire, const Design& design, const ConductorResistance& resistance_per_length);

} // namespace trivet
