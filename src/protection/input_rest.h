#pragma once

#include "protection/actuation.h"

namespace trivet {

// Where a switch stays when nothing drives its input: the line is off, or the board behind it is dead.
struct InputRest {
    bool on = false;
    bool assumed = false; // nothing states it and no resistor holds the input: taken as on
};

// What the module states ("when_open"), else the side to which a resistor in the design or on the module pulls the
// input. A coil without current lets go.
InputRest rest_of_input(const Circuit& circuit, const Nets& nets, const Design& design, const Actuation& actuation);

// Whether a high level at its input switches it on; true for a coil or transistor that states no input.
bool high_means_on(const Design& design, const Actuation& actuation);

} // namespace trivet
