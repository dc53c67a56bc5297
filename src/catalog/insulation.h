#pragma once

#include "catalog/element.h"

namespace trivet {

// The highest continuous conductor temperature that an insulation word stands for when nothing better is stated.
struct InsulationClass {
    Temperature highest;
    Basis basis{};
    std::string_view source;
};

// In the order of insulation_names. The lowest common grade of each material: better grades have to be stated.
inline constexpr std::array<InsulationClass, insulation_names.size()> insulation_classes{{
    {celsius(70.0), Basis::standard, "IEC 60364-5-52: thermoplastic (PVC) insulation, 70 °C at the conductor"},
    {celsius(90.0), Basis::standard, "IEC 60364-5-52: thermosetting (XLPE) insulation, 90 °C at the conductor"},
    {celsius(180.0), Basis::standard, "IEC 60245-3: heat-resistant silicone insulation, 180 °C (from memory)"},
    {celsius(200.0), Basis::typical, "common practice for PTFE hook-up wire with silver-plated strands"},
    {celsius(60.0), Basis::standard, "IEC 60245-4: ordinary rubber-insulated flexible cords, 60 °C (from memory)"},
}};

} // namespace trivet
