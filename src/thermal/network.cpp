#include "thermal/network.h"

#include "thermal/convection.h"

#include <algorithm>

namespace trivet {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8; // W/(m² K⁴), CODATA 2018
constexpr double least_resistance_factor = 0.1;

Flow flow_of(const Conducts& law, double from, double to) {
    const double conductance = law.conductance.si;
    return {{conductance * (from - to)}, {conductance}, {-conductance}};
}

Flow flow_of(const Surface& law, double from, double to) {
    const double difference = from - to;
    const Coefficient h = convection(law, from, to);
    const double by_difference = h.value + difference * h.by_difference;
    const double by_film = 0.5 * difference * h.by_film;
    const double radiates = law.emissivity * stefan_boltzmann;
    const double from_squared = from * from;
    const double to_squared = to * to;
    const double radiation = radiates * (from_squared + to_squared) * (from + to) * difference;
    return {{law.area.si * (h.value * difference + radiation)},
            {law.area.si * (by_difference + by_film + 4.0 * radiates * from_squared * from)},
            {law.area.si * (by_film - by_difference - 4.0 * radiates * to_squared * to)}};
}

// Share of the melting heat that is taken up at a temperature.
double melted(const Melting& melting, double kelvin) {
    return std::clamp((kelvin - melting.from.si) / (melting.to.si - melting.from.si), 0.0, 1.0);
}

} // namespace

Flow heat_flow(const HeatLink& link, Temperature from, Temperature to) {
    const auto* conducts = std::get_if<Conducts>(&link.law);
    const Flow whole = conducts != nullptr ? flow_of(*conducts, from.si, to.si)
                                           : flow_of(*std::get_if<Surface>(&link.law), from.si, to.si);
    return {link.share * whole.power, link.share * whole.by_from, link.share * whole.by_to};
}

namespace {

SourcePower without_self_limit(const HeatSource& source, Temperature body) {
    const double factor = 1.0 + source.coefficient.si * (body.si - source.reference.si);
    if (factor <= least_resistance_factor) return {source.power / least_resistance_factor, {0.0}};
    return {source.power / factor, {-source.power.si * source.coefficient.si / (factor * factor)}};
}

} // namespace

SourcePower source_power(const HeatSource& source, Temperature body) {
    const SourcePower plain = without_self_limit(source, body);
    if (!source.self_limit) return plain;
    const double left = ((*source.self_limit - body) / self_limit_span).si;
    if (left >= 1.0) return plain;
    if (left <= 0.0) return {{0.0}, {0.0}};
    return {left * plain.power, {left * plain.by_temperature.si - plain.power.si / self_limit_span.si}};
}

Energy heat_content(const ThermalBody& body, Temperature temperature) {
    const double sensible = body.capacity.si * in_celsius(temperature);
    if (!body.melting) return {sensible};
    const double taken_up = melted(*body.melting, temperature.si) - melted(*body.melting, zero_celsius_in_kelvin);
    return {sensible + body.melting->energy.si * taken_up};
}

Temperature temperature_at(const ThermalBody& body, Energy content) {
    const double capacity = body.capacity.si;
    if (!body.melting) return celsius(content.si / capacity);
    const Melting& melting = *body.melting;
    const double from_solid = content.si + melting.energy.si * melted(melting, zero_celsius_in_kelvin);
    const double first_drop = capacity * in_celsius(melting.from);
    const double all_liquid = capacity * in_celsius(melting.to) + melting.energy.si;
    if (from_solid <= first_drop) return celsius(from_solid / capacity);
    if (from_solid >= all_liquid) return celsius((from_solid - melting.energy.si) / capacity);
    const double share = (from_solid - first_drop) / (all_liquid - first_drop);
    return {melting.from.si + share * (melting.to.si - melting.from.si)};
}

} // namespace trivet
