#include "catalog/read_element.h"

#include <array>
#include <utility>

namespace trivet {
namespace {

using enum Bounds;
using Words2 = std::array<std::string_view, 2>;
using Words3 = std::array<std::string_view, 3>;

void read(PropertySource& from, SourceElement& e) {
    from.between("between", e.between);
    from.range("voltage", e.voltage, positive);
    from.range("rated_current", e.rated_current, positive);
    from.range("limit_current", e.limit_current, positive);
    from.word("limit_mode", e.limit_mode, limit_mode_names);
    from.range("internal_resistance", e.internal_resistance);
    from.range("full_load_up_to", e.full_load_up_to);
    from.range("derating", e.derating);
    from.flag("isolated", e.isolated);
    from.flag("battery", e.is_battery);
}

void read(PropertySource& from, FuseElement& e) {
    from.between("between", e.between);
    from.word("family", e.family, fuse_family_names, true);
    from.range("rated_current", e.rated_current, positive);
    from.range("rated_voltage", e.rated_voltage, positive);
    from.range("breaking_capacity", e.breaking_capacity, positive);
    from.range("resistance", e.resistance);
}

void read(PropertySource& from, CutoffElement& e) {
    from.between("between", e.between);
    from.word("reset", e.reset, cutoff_reset_names, true);
    from.range("trip", e.trip);
    from.range("reset_temperature", e.reset_temperature);
    from.range("holding_temperature", e.holding_temperature);
    from.range("response_time", e.response_time);
    from.ratings("rated", e.rated);
    from.range("resistance", e.resistance);
    from.count("endurance", "electrical", "mechanical", e.endurance);
}

void read(PropertySource& from, ContactElement& e) {
    from.between("between", e.between);
    from.choice("rests", e.rests_closed, Words2{"open", "closed"}, true);
    from.name("driven_by", e.driven_by);
    from.hand("operated_by", e.by_hand);
    from.ratings("rated", e.rated);
    from.range("resistance", e.resistance);
    from.count("endurance", "electrical", "mechanical", e.endurance);
}

void read(PropertySource& from, TransistorElement& e) {
    from.between("between", e.between);
    from.name("driven_by", e.driven_by);
    from.optional_terminal("reference", e.reference);
    from.range("on_resistance", e.on_resistance);
    from.range("drive_needed", e.drive_needed);
    from.range("threshold", e.threshold);
    from.range("drive_limit", e.drive_limit, any);
    from.range("rated_current", e.rated_current, positive);
    from.range("rated_voltage", e.rated_voltage, positive);
    from.range("thermal_resistance", e.thermal_resistance, positive);
    from.range("junction_limit", e.junction_limit);
    from.range("on_voltage", e.on_voltage);
    from.flag("body_diode", e.body_diode);
    from.flag("turns_off_on_dc", e.turns_off_on_dc);
}

void read(PropertySource& from, InputElement& e) {
    from.terminal("terminal", e.terminal);
    from.terminal("reference", e.reference);
    from.choice("active", e.active_high, Words2{"low", "high"}, true);
    from.range("on_voltage", e.on_voltage);
    from.range("off_voltage", e.off_voltage);
    from.range("current", e.current);
    from.range("pull", e.pull, positive);
    from.word("when_open", e.when_open, Words3{"unstated", "off", "on"});
}

void read(PropertySource& from, CoilElement& e) {
    from.between("between", e.between);
    from.range("resistance", e.resistance, positive);
    from.range("current", e.current, positive);
    from.range("voltage", e.voltage, positive);
    from.flag("suppressed", e.suppressed);
}

void read(PropertySource& from, ConverterElement& e) {
    from.between("input", e.input);
    from.between("output_terminals", e.output);
    from.word("topology", e.topology, topology_names, true);
    from.range("input_voltage", e.input_voltage, positive);
    from.range("input_limit", e.input_limit, any);
    from.range("output", e.output_voltage, positive);
    from.flag("adjustable", e.adjustable);
    from.range("output_range", e.output_range, positive);
    from.range("efficiency", e.efficiency, fraction);
    from.range("quiescent_current", e.quiescent_current);
    from.range("dropout", e.dropout);
    from.range("rated_output_current", e.rated_output_current, positive);
    from.range("limit_current", e.limit_current, positive);
    from.range("dissipation_limit", e.dissipation_limit, positive);
}

void read(PropertySource& from, HeaterElement& e) {
    from.between("between", e.between);
    from.range("resistance", e.resistance, positive);
    from.range("temperature_coefficient", e.temperature_coefficient, any);
    from.range("working_temperature", e.working_temperature);
    from.range("voltage", e.voltage, positive);
    from.range("power", e.power, positive);
    from.range("cold_factor", e.cold_factor, at_least_one);
    from.range("self_limit", e.self_limit);
}

// A load of which only one of current, power and resistance is stated keeps just that one constant.
void behave_as_stated(const TableReader& reader, LoadBehaviour& behaviour) {
    if (reader.has("power")) {
        behaviour = LoadBehaviour::constant_power;
    } else if (reader.has("resistance")) {
        behaviour = LoadBehaviour::resistance;
    } else if (reader.has("current")) {
        behaviour = LoadBehaviour::constant_current;
    }
}

void read(PropertySource& from, LoadElement& e) {
    from.between("between", e.between);
    from.word("category", e.category, load_category_names, true);
    from.range("current", e.current);
    from.range("power", e.power);
    from.range("resistance", e.resistance, positive);
    const bool reads = from.purpose() == Purpose::define || from.purpose() == Purpose::restate;
    if (reads) behave_as_stated(from.reader(), e.behaviour);
    const int stated = int{e.current.has_value()} + int{e.power.has_value()} + int{e.resistance.has_value()};
    from.word("behaviour", e.behaviour, load_behaviour_names, stated > 1);
    from.range("voltage", e.voltage);
    from.range("voltage_limit", e.voltage_limit, any);
    from.range("start_factor", e.start_factor, at_least_one);
    from.flag("suppressed", e.suppressed);
    from.flag("either_way", e.either_way);
}

void read(PropertySource& from, ConductorElement& e) {
    from.between("between", e.between);
    from.range("resistance", e.resistance);
    from.range("rated_current", e.rated_current, positive);
}

void read(PropertySource& from, DiodeElement& e) {
    from.between("between", e.between);
    from.range("forward_voltage", e.forward_voltage);
    from.range("rated_current", e.rated_current, positive);
    from.range("rated_voltage", e.rated_voltage, positive);
}

void read(PropertySource& from, ResistorElement& e) {
    from.between("between", e.between);
    from.range("resistance", e.resistance, positive);
    from.range("rated_power", e.rated_power, positive);
}

void read(PropertySource& from, ThermistorElement& e) {
    from.between("between", e.between);
    from.word("curve", e.curve, sensor_curve_names, true);
    from.range("resistance", e.resistance, positive);
    from.range("reference", e.reference);
    from.range("beta", e.beta, positive);
    from.range("range", e.range);
    from.range("response_time", e.response_time);
}

void read(PropertySource& from, PinElement& e) {
    from.terminal("terminal", e.terminal);
    from.terminal("ground", e.ground);
    from.terminal("supply", e.supply);
    from.words("modes", e.modes, pin_mode_names);
    from.range("output_current", e.output_current);
    from.range("output_high", e.output_high);
    from.range("output_low", e.output_low);
    from.range("input_limit", e.input_limit, any);
    from.word("in_reset", e.in_reset, reset_state_names);
    from.range("reset_pull", e.reset_pull, positive);
}

void read(PropertySource& from, SignalElement& e) {
    from.terminal("terminal", e.terminal);
    from.terminal("ground", e.ground);
    from.word("levels", e.levels, Words3{"analogue", "push-pull", "open-drain"});
    from.range("high", e.high);
    from.range("response_time", e.response_time);
}

void read(PropertySource& from, WireElement& e) {
    from.range("area", e.area, positive);
    from.word("conductor_class", e.conductor_class, conductor_class_names);
    from.word("insulation", e.insulation, insulation_names);
    from.range("insulation_class", e.insulation_class);
}

void read(PropertySource& from, CapacitorElement& e) {
    from.between("between", e.between);
    from.range("capacitance", e.capacitance, positive);
    from.range("rated_voltage", e.rated_voltage, positive);
}

void read(PropertySource& from, MaterialElement& e) {
    from.range("limit", e.limit);
    from.range("density", e.density, positive);
    from.range("specific_heat", e.specific_heat, positive);
    from.range("conductivity", e.conductivity, positive);
    from.range("emissivity", e.emissivity, fraction);
    from.range("melting", e.melting);
    from.range("melting_energy", e.melting_energy, positive);
    from.word("touch", e.touch, touch_class_names);
    from.flag("liquid", e.liquid);
}

template <std::size_t... Index> ElementBody make(std::size_t kind, std::index_sequence<Index...>) {
    ElementBody body;
    ((kind == Index ? static_cast<void>(body.emplace<Index>()) : static_cast<void>(0)), ...);
    return body;
}

} // namespace

ElementBody empty_element(std::size_t kind) {
    return make(kind, std::make_index_sequence<std::variant_size_v<ElementBody>>{});
}

void read_element(PropertySource& source, ElementBody& body) {
    std::visit([&](auto& element) { read(source, element); }, body);
}

} // namespace trivet
