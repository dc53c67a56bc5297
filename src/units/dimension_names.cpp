#include "units/dimension_names.h"

#include "units/format.h"

namespace trivet {

namespace {

constexpr KnownDimension known[] = {
    {dim::number, "number", "a plain number", "0.8", "no unit, % or ppm"},
    {dim::length, "length", "a length", "25 cm", "mm, cm, m, in or ft"},
    {dim::area, "area", "an area", "0.75 mm²", "mm², cm², m² or AWG"},
    {dim::mass, "mass", "a mass", "220 g", "g or kg"},
    {dim::time, "time", "a time", "10 s", "ms, s, min or h"},
    {dim::frequency, "frequency", "a frequency", "1 kHz", "Hz, kHz or MHz"},
    {dim::speed, "speed", "a speed", "1.5 m/s", "m/s or cm/s"},
    {dim::current, "current", "a current", "2 A", "mA or A"},
    {dim::temperature, "temperature", "a temperature", "75 °C", "°C (or degC), °F (or degF) or K"},
    {dim::temperature_difference, "temperature difference", "a temperature difference", "2 K", "K or °C"},
    {dim::power, "power", "a power", "60 W", "mW, W or kW"},
    {dim::energy, "energy", "an energy", "100 kJ", "J, kJ, Wh or kWh"},
    {dim::voltage, "voltage", "a voltage", "24 V", "mV, V or kV"},
    {dim::resistance, "resistance", "a resistance", "9.6 ohm", "mohm, ohm, kohm or Mohm (also with Ω)"},
    {dim::conductance, "conductance", "an electrical conductance", "0.1 S", "mS or S"},
    {dim::resistance_per_length, "resistance per length", "a resistance per length", "20 ohm/km", "ohm/m or ohm/km"},
    {dim::charge, "charge", "an electric charge", "2 Ah", "mAh or Ah"},
    {dim::capacitance, "capacitance", "a capacitance", "100 µF", "pF, nF, µF or F"},
    {dim::inductance, "inductance", "an inductance", "10 µH", "µH, mH or H"},
    {dim::joule_integral, "joule integral", "a joule integral (current squared times time)", "100 A²s", "A²s"},
    {dim::withstand_density, "withstand density", "a short-circuit withstand density", "13225 A²s/mm⁴", "A²s/mm⁴"},
    {dim::thermal_resistance, "thermal resistance", "a thermal resistance", "3 K/W", "K/W or °C/W"},
    {dim::thermal_conductance, "thermal conductance", "a thermal conductance", "3 W/K", "W/K"},
    {dim::heat_capacity, "heat capacity", "a heat capacity", "200 J/K", "J/K"},
    {dim::per_kelvin, "temperature coefficient", "a change per kelvin", "0.39 %/K", "%/K, ppm/K or 1/K"},
    {dim::conductivity, "thermal conductivity", "a thermal conductivity", "0.2 W/(m K)", "W/(m K)"},
    {dim::specific_heat, "specific heat", "a specific heat", "900 J/(kg K)", "J/(kg K)"},
    {dim::specific_energy, "specific energy", "an energy per mass", "200 kJ/kg", "kJ/kg"},
    {dim::density, "density", "a density", "2700 kg/m³", "kg/m³"},
};

} // namespace

std::span<const KnownDimension> known_dimensions() { return known; }

const KnownDimension* find_dimension(Dimension dimension) {
    for (const KnownDimension& candidate : known) {
        if (candidate.dimension == dimension) return &candidate;
    }
    return nullptr;
}

std::string_view dimension_name(Dimension dimension) {
    const KnownDimension* found = find_dimension(dimension);
    return found != nullptr ? found->phrase : "a quantity of another kind";
}

std::string_view dimension_example(Dimension dimension) {
    const KnownDimension* found = find_dimension(dimension);
    return found != nullptr ? found->example : std::string_view{};
}

DimensionLookup dimension_called(std::string_view name) {
    for (const KnownDimension& candidate : known) {
        if (candidate.name == name) return {true, candidate.dimension};
    }
    return {};
}

} // namespace trivet
