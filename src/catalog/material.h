#pragma once

#include "catalog/given.h"

#include <array>
#include <string>
#include <string_view>

namespace trivet {

// Kinds of surface whose burn thresholds ISO 13732-1 tells apart.
inline constexpr std::array<std::string_view, 4> touch_class_names{"metal", "ceramic", "plastic", "wood"};

// What a body or a layer consists of; has no terminals.
struct MaterialElement {
    Perhaps<dim::temperature> limit; // bears it for years under light load
    Perhaps<dim::density> density;
    Perhaps<dim::specific_heat> specific_heat;
    Perhaps<dim::conductivity> conductivity;
    Perhaps<dim::number> emissivity;              // of its usual surface
    Perhaps<dim::temperature> melting;            // from the first drop to all liquid
    Perhaps<dim::specific_energy> melting_energy; // taken up meanwhile
    std::string touch;                            // word of touch_class_names; empty: not stated
    bool liquid = false;                          // in use it is, or can become, a liquid
};

} // namespace trivet
