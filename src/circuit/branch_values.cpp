#include "circuit/branch_values.h"

#include "catalog/sensor_curve.h"

#include <algorithm>
#include <variant>

namespace trivet {

namespace {

constexpr double next_to_nothing = 1e9; // ohm: carries no current that any verdict could notice
constexpr double copper_per_kelvin = 0.00393;
constexpr Temperature reference = celsius(20.0);

template <Dimension D> Parameter stated(const Given<D>& given) { return {given.range.lo.si, given.range.hi.si, true}; }
Parameter stand_in(double lo, double hi) { return {lo, hi, false}; }
Parameter stand_in(double value) { return {value, value, false}; }

template <Dimension D> Parameter stated_or(const Perhaps<D>& given, Parameter otherwise) {
    return given ? stated(*given) : otherwise;
}

// Resistance that draws a stated current or power at the middle of the rated voltage. A lower end of 0 leaves the
// resistance without an upper end.
template <Dimension D> Parameter resistance_from(double numerator, const Given<D>& divisor) {
    const auto divided = [&](double by) { return by > 0.0 ? numerator / by : next_to_nothing; };
    return {divided(divisor.range.hi.si), divided(divisor.range.lo.si), true};
}

double start_factor(const Perhaps<dim::number>& factor) { return factor ? factor->range.hi.si : 1.0; }

BranchValues values(const SourceElement& source) {
    BranchValues result;
    result.add("voltage", stated_or(source.voltage, stand_in(0.0)));
    const Parameter otherwise = source.is_battery ? stand_in(0.02) : Parameter{0.0, 0.0, true};
    result.add("internal resistance", stated_or(source.internal_resistance, otherwise));
    return result;
}

BranchValues values(const FuseElement& fuse) {
    constexpr double drop_at_rated_current = 0.05;
    const bool known = fuse.rated_current && fuse.rated_current->range.hi.si > 0.0;
    const Parameter otherwise =
        known ? stand_in(drop_at_rated_current / fuse.rated_current->range.hi.si) : stand_in(0.0, 0.005);
    BranchValues result;
    result.add("resistance", stated_or(fuse.resistance, otherwise));
    return result;
}

BranchValues closed_contact(const Perhaps<dim::resistance>& resistance) {
    BranchValues result;
    result.add("resistance", stated_or(resistance, stand_in(0.0, 0.05)));
    return result;
}

BranchValues values(const CutoffElement& cutoff) { return closed_contact(cutoff.resistance); }
BranchValues values(const ContactElement& contact) { return closed_contact(contact.resistance); }

// One of the two describes a transistor completely; the other is then known to be nothing.
BranchValues values(const TransistorElement& transistor) {
    const bool described = transistor.on_resistance || transistor.on_voltage;
    BranchValues result;
    result.add("on resistance",
               stated_or(transistor.on_resistance, described ? Parameter{0.0, 0.0, true} : stand_in(0.01)));
    result.add("on voltage", stated_or(transistor.on_voltage, Parameter{0.0, 0.0, described}));
    return result;
}

BranchValues values(const CoilElement& coil) {
    Parameter resistance = stand_in(next_to_nothing);
    if (coil.resistance)
        resistance = stated(*coil.resistance);
    else if (coil.current && coil.voltage)
        resistance = resistance_from(coil.voltage->range.middle().si, *coil.current);
    BranchValues result;
    result.add("resistance", resistance);
    return result;
}

BranchValues values(const ConverterElement& converter) {
    BranchValues result;
    result.add("output voltage", stated_or(converter.output_voltage, stand_in(5.0)));
    result.add("efficiency", stated_or(converter.efficiency, stand_in(0.8, 0.95)));
    result.add("quiescent current", stated_or(converter.quiescent_current, stand_in(0.0, 0.02)));
    return result;
}

// How many times its resistance at 20 °C the heater has in use. Kept above a tenth: a linear coefficient says nothing
// that far out.
double hot_over_cold(const HeaterElement& heater, Quantity<dim::per_kelvin> coefficient) {
    if (!heater.working_temperature) return 1.0;
    const double above = std::max(0.0, (heater.working_temperature->range.hi - reference).si);
    return std::max(0.1, 1.0 + coefficient.si * above);
}

// A stated resistance is the cold one; one that follows from rated voltage and power is the hot one.
Parameter running_resistance(const HeaterElement& heater) {
    Range<dim::number> change = exactly(Number{1.0});
    if (heater.temperature_coefficient) {
        const auto& coefficient = heater.temperature_coefficient->range;
        change = {{hot_over_cold(heater, coefficient.lo)}, {hot_over_cold(heater, coefficient.hi)}};
    }
    const double lowered = std::min(1.0, change.lo.si);
    const double raised = std::max(1.0, change.hi.si);
    if (heater.resistance)
        return {heater.resistance->range.lo.si * lowered, heater.resistance->range.hi.si * raised, true};
    if (!heater.voltage || !heater.power) return stand_in(next_to_nothing);
    const double rated = heater.voltage->range.middle().si;
    const Parameter hot = resistance_from(rated * rated, *heater.power);
    return {hot.lo / raised, hot.hi / lowered, true};
}

BranchValues values(const HeaterElement& heater) {
    BranchValues result;
    result.add("resistance", running_resistance(heater));
    result.start_factor = start_factor(heater.cold_factor);
    return result;
}

BranchValues values(const LoadElement& load) {
    BranchValues result;
    switch (load.behaviour) {
    case LoadBehaviour::constant_current:
        result.add("current", stated_or(load.current, stand_in(0.0)));
        break;
    case LoadBehaviour::constant_power:
        result.add("power", stated_or(load.power, stand_in(0.0)));
        break;
    case LoadBehaviour::resistance:
        result.add("resistance", stated_or(load.resistance, stand_in(next_to_nothing)));
        break;
    }
    result.start_factor = start_factor(load.start_factor);
    return result;
}

BranchValues values(const DiodeElement& diode) {
    BranchValues result;
    result.add("forward voltage", stated_or(diode.forward_voltage, stand_in(0.7)));
    return result;
}

BranchValues plain_resistance(const Perhaps<dim::resistance>& resistance) {
    BranchValues result;
    result.add("resistance", stated_or(resistance, stand_in(next_to_nothing)));
    return result;
}

BranchValues values(const ConductorElement& conductor) { return plain_resistance(conductor.resistance); }
BranchValues values(const ResistorElement& resistor) { return plain_resistance(resistor.resistance); }
BranchValues values(const ThermistorElement& thermistor) { return plain_resistance(thermistor.resistance); }

BranchValues values(const InputElement&) { return {}; }
BranchValues values(const PinElement&) { return {}; }
BranchValues values(const SignalElement&) { return {}; }
BranchValues values(const WireElement&) { return {}; }
BranchValues values(const CapacitorElement&) { return {}; }
BranchValues values(const MaterialElement&) { return {}; }

} // namespace

BranchValues branch_values(const ElementBody& body) {
    return std::visit([](const auto& element) { return values(element); }, body);
}

BranchValues sensor_values(const ThermistorElement& sensor, Range<dim::temperature> air, bool heated) {
    const auto known = known_range(sensor);
    if (!known || (!heated && (air.hi < known->lo || air.lo > known->hi))) return values(sensor);
    const Range<dim::temperature> span =
        heated ? *known : Range<dim::temperature>{std::max(air.lo, known->lo), std::min(air.hi, known->hi)};
    const auto resistance = sensor_resistance(sensor, span);
    if (!resistance) return values(sensor);
    BranchValues result;
    result.add("resistance", {resistance->lo.si, resistance->hi.si, true});
    return result;
}

Parameter wire_resistance(const Wire& wire, const Design& design, const ConductorResistance& resistance_per_length) {
    const auto at_reference = resistance_per_length(wire.made_of);
    if (!wire.length || !at_reference) return stand_in(0.0);
    const Temperature air = wire.ambient ? wire.ambient->value.lo : design.ambient.value.lo;
    const Temperature bears = wire.made_of.insulation_class ? wire.made_of.insulation_class->range.hi : celsius(70.0);
    const auto factor = [](Temperature conductor) {
        return std::max(0.0, 1.0 + copper_per_kelvin * (conductor - reference).si);
    };
    const double coldest = factor(std::min(air, bears));
    const double hottest = factor(std::max(air, bears));
    return {at_reference->si * wire.length->range.lo.si * coldest,
            at_reference->si * wire.length->range.hi.si * hottest, true};
}

} // namespace trivet
