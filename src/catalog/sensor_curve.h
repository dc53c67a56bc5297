#pragma once

#include "catalog/element.h"

#include <optional>

namespace trivet {

// Ends of the standard's range; outside of it the curve says nothing.
inline constexpr Range<dim::temperature> platinum_range{celsius(-200.0), celsius(850.0)};

// Resistance over that at 0 °C, Callendar and Van Dusen: 1 + A t + B t² + C (t - 100) t³, t in °C, C only below 0 °C
// (IEC 60751). Empty outside platinum_range.
std::optional<double> platinum_ratio(Temperature temperature);

// The inverse, by Newton's method to 1e-9 K.
std::optional<Temperature> platinum_temperature(double ratio);

// Resistance over that at the reference temperature: exp(B (1/T - 1/T_ref)), T in kelvin (B equation, IEC 60539-1).
// Real parts leave it by a few percent far from the two temperatures between which their B is stated.
double ntc_ratio(TemperatureDifference b, Temperature reference, Temperature temperature);

// The inverse: 1/T = 1/T_ref + ln(ratio)/B. Empty for a ratio that no temperature has.
std::optional<Temperature> ntc_temperature(TemperatureDifference b, Temperature reference, double ratio);

// Where the sensor's curve is known: its stated working range; for platinum no more than the standard's. Empty for an
// NTC without stated range and for PTC sensors, whose curve follows no published equation.
std::optional<Range<dim::temperature>> known_range(const ThermistorElement& sensor);

// Every resistance the sensor may have at these temperatures, tolerances of its resistance and B included. Empty if
// they lie outside known_range, or if its resistance, reference or (NTC) B is not stated.
std::optional<Range<dim::resistance>> sensor_resistance(const ThermistorElement& sensor, Range<dim::temperature> at);

// Every temperature at which the sensor may have this resistance, cut to known_range; empty if there is none in it.
std::optional<Range<dim::temperature>> sensor_temperature(const ThermistorElement& sensor, Resistance measured);

} // namespace trivet
