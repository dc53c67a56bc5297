#include "protection/fault_cases.h"

#include "protection/case_list.h"
#include "protection/circuit_part.h"
#include "protection/input_rest.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

namespace {

constexpr double high_by = 1.2;   // common practice, no source: a supply whose regulation fails
constexpr double half_left = 0.5; // of the resistance

// The faults of each kind of branch that need nothing but a change of that branch.
struct PlainFault {
    BranchKind kind;
    FaultMode mode;
    Change change;
    double factor = 1.0;
    bool latent = false;
};
constexpr std::array plain_faults{
    PlainFault{BranchKind::source, FaultMode::dead, Change::opened},
    PlainFault{BranchKind::fuse, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::fuse, FaultMode::bridged, Change::shorted, 1.0, true},
    PlainFault{BranchKind::cutoff, FaultMode::stuck_closed, Change::closed, 1.0, true},
    PlainFault{BranchKind::cutoff, FaultMode::stuck_open, Change::opened},
    PlainFault{BranchKind::contact, FaultMode::stuck_closed, Change::closed},
    PlainFault{BranchKind::contact, FaultMode::stuck_open, Change::opened},
    PlainFault{BranchKind::transistor, FaultMode::short_circuit, Change::shorted},
    PlainFault{BranchKind::transistor, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::converter, FaultMode::dead, Change::opened},
    PlainFault{BranchKind::heater, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::heater, FaultMode::half_shorted, Change::scaled, half_left},
    PlainFault{BranchKind::load, FaultMode::short_circuit, Change::shorted},
    PlainFault{BranchKind::conductor, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::diode, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::diode, FaultMode::short_circuit, Change::shorted},
    PlainFault{BranchKind::resistor, FaultMode::open_circuit, Change::opened},
    PlainFault{BranchKind::resistor, FaultMode::short_circuit, Change::shorted},
};

void add_plain(CaseList& list, BranchId id) {
    const Branch& branch = list.circuit.branches[id.value];
    for (const PlainFault& fault : plain_faults) {
        if (fault.kind != branch.kind) continue;
        FaultCase& made = list.add(fault.mode, branch);
        made.changes.push_back({id, fault.change, fault.factor});
        made.latent = fault.latent && std::ranges::find(list.off.opened, id) == list.off.opened.end();
    }
}

void add_source(CaseList& list, BranchId id, const SourceElement& source) {
    if (source.is_battery) return;
    FaultCase& high = list.add(FaultMode::voltage_high, list.circuit.branches[id.value]);
    high.changes.push_back({id, Change::scaled, high_by});
}

void add_converter(CaseList& list, BranchId id, const ConverterElement& converter) {
    if (converter.topology == Topology::isolated) return;
    const Branch& branch = list.circuit.branches[id.value];
    FaultCase& through = list.add(FaultMode::passes_through, branch);
    through.changes.push_back({id, Change::opened});
    through.joins = {{branch.from, branch.output_from}, {branch.to, branch.output_to}};
}

void add_load(CaseList& list, BranchId id, const LoadElement& load) {
    const bool is_motor = load.category == LoadCategory::motor;
    FaultCase& open =
        list.add(is_motor ? FaultMode::fan_stopped : FaultMode::open_circuit, list.circuit.branches[id.value]);
    open.changes.push_back({id, Change::opened});
}

void add_coil(CaseList& list, BranchId id) {
    const Branch& branch = list.circuit.branches[id.value];
    for (const FaultMode mode : {FaultMode::open_circuit, FaultMode::short_circuit}) {
        FaultCase& made = list.add(mode, branch);
        made.changes.push_back({id, mode == FaultMode::open_circuit ? Change::opened : Change::shorted});
        for (std::uint32_t i = 0; i < list.actuations.size(); ++i)
            if (list.actuations[i].coil == id) made.forced.push_back({{i}, false});
    }
}

// An NTC without connection reads cold, so that the control heats; a platinum or PTC sensor does when it is shorted.
void add_thermistor(CaseList& list, PartId part, std::uint16_t element, const ThermistorElement& sensor,
                    std::optional<BranchId> id) {
    const bool ntc = sensor.curve == SensorCurve::ntc;
    const std::vector<DriverId> led = list.led_by_sensor(part, {sensor.between.first, sensor.between.second});
    for (const FaultMode mode : {FaultMode::sensor_open, FaultMode::sensor_shorted}) {
        const bool open = mode == FaultMode::sensor_open;
        FaultCase& made = list.add(mode, part, element);
        if (id) made.changes.push_back({*id, open ? Change::opened : Change::shorted});
        list.force(made, led, open == ntc);
    }
    list.force(list.add(FaultMode::sensor_detached, part, element), led, true);
}

void add_signal(CaseList& list, PartId part, std::uint16_t element, const SignalElement& signal) {
    const std::vector<DriverId> led = list.led_by_sensor(part, {signal.terminal});
    if (led.empty()) return;
    FaultCase& open = list.add(FaultMode::sensor_open, part, element);
    open.assumed = true;
    list.force(open, led, true);
    list.force(list.add(FaultMode::sensor_detached, part, element), led, true);
}

void add_pin(CaseList& list, PartId part, std::uint16_t element, const PinElement& pin) {
    const TerminalRef terminal{part, pin.terminal};
    const std::vector<DriverId> driven = list.driven_by_pin(terminal);
    if (driven.empty()) return;
    for (const FaultMode mode : {FaultMode::pin_high, FaultMode::pin_low}) {
        FaultCase& made = list.add(mode, part, element);
        made.terminal = terminal;
        for (const DriverId driver : driven)
            made.forced.push_back(
                {driver, high_means_on(list.design, list.actuations[driver.value]) == (mode == FaultMode::pin_high)});
    }
}

void add_input(CaseList& list, PartId part, std::uint16_t element, const InputElement& input) {
    for (std::uint32_t i = 0; i < list.actuations.size(); ++i) {
        const Actuation& actuation = list.actuations[i];
        if (actuation.input != TerminalRef{part, input.terminal}) continue;
        const InputRest rest = rest_of_input(list.circuit, list.nets, list.design, actuation);
        FaultCase& made = list.add(FaultMode::input_open, part, element);
        made.terminal = actuation.input;
        made.assumed = rest.assumed;
        made.forced.push_back({{i}, rest.assumed ? list.off.on[i] == 0 : rest.on});
    }
}

void add_element(CaseList& list, PartId part, std::uint16_t index) {
    const ElementBody& body = list.design.part(part).part->elements[index].body;
    const std::optional<BranchId> id = list.branch_of(part, index);
    if (const auto* thermistor = std::get_if<ThermistorElement>(&body))
        add_thermistor(list, part, index, *thermistor, id);
    if (const auto* signal = std::get_if<SignalElement>(&body)) add_signal(list, part, index, *signal);
    if (const auto* pin = std::get_if<PinElement>(&body)) add_pin(list, part, index, *pin);
    if (const auto* input = std::get_if<InputElement>(&body)) add_input(list, part, index, *input);
    if (!id) return;
    add_plain(list, *id);
    if (const auto* source = std::get_if<SourceElement>(&body)) add_source(list, *id, *source);
    if (const auto* converter = std::get_if<ConverterElement>(&body)) add_converter(list, *id, *converter);
    if (const auto* load = std::get_if<LoadElement>(&body)) add_load(list, *id, *load);
    if (std::holds_alternative<CoilElement>(body)) add_coil(list, *id);
}

void add_wires(CaseList& list) {
    for (const BranchId id : list.wires_that_matter()) {
        FaultCase& made = list.cases.emplace_back();
        made.mode = FaultMode::open_circuit;
        made.wire = list.circuit.branches[id.value].wire;
        made.changes.push_back({id, Change::opened});
        list.force_by_open_sensor(made);
    }
}

void add_firmware(CaseList& list) {
    for (std::size_t i = 0; i < list.design.controls.size(); ++i) {
        const std::vector<DriverId> led = list.led_by_control(i);
        if (led.empty()) continue;
        FaultCase& made = list.cases.emplace_back();
        made.mode = FaultMode::always_on;
        made.control = i;
        list.force(made, led, true);
    }
    for (std::uint32_t i = 0; i < list.design.parts.size(); ++i) {
        const std::vector<DriverId> led = list.driven_by_board({i});
        if (led.empty()) continue;
        FaultCase& made = list.cases.emplace_back();
        made.mode = FaultMode::board_runs_wild;
        made.part = {i};
        list.force(made, led, true);
    }
}

} // namespace

std::vector<FaultCase> fault_cases(const Circuit& circuit, const Nets& nets, const Design& design,
                                   const std::vector<Actuation>& actuations, const OffState& off) {
    CaseList list(circuit, nets, design, actuations, off);
    for (std::uint32_t part = 0; part < design.parts.size(); ++part)
        for (std::size_t i = 0; i < design.parts[part].part->elements.size(); ++i)
            add_element(list, {part}, static_cast<std::uint16_t>(i));
    add_wires(list);
    add_firmware(list);
    return std::move(list.cases);
}

std::string describe(const FaultCase& fault, const Design& design) {
    const std::string_view what = fault_mode_names[static_cast<std::size_t>(fault.mode)];
    if (fault.control) return fmt::format("control {} {}", design.controls[*fault.control].name, what);
    if (fault.wire) return fmt::format("wire {} {}", design.wire(*fault.wire).name, what);
    if (fault.terminal) return fmt::format("{} {}", design.terminal_name(*fault.terminal), what);
    const PartUse& use = design.part(fault.part);
    if (!fault.element) return fmt::format("{} {}", use.name, what);
    return fmt::format("{} {} {}", use.name, use.part->elements[*fault.element].name, what);
}

} // namespace trivet
