#include "protection/case_list.h"

#include "circuit/list_search.h"
#include "protection/circuit_part.h"

#include <algorithm>

namespace trivet {

namespace {} // namespace

CaseList::CaseList(const Circuit& of_circuit, const Nets& of_nets, const Design& of_design,
                   const std::vector<Actuation>& of_drivers, const OffState& off_state)
    : circuit(of_circuit)
    , nets(of_nets)
    , design(of_design)
    , actuations(of_drivers)
    , off(off_state)
    , branch_of_element_(of_design.parts.size())
    , drivers_of_board_(of_design.parts.size()) {
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i)
        if (circuit.branches[i].kind != BranchKind::wire)
            branch_of_element_[circuit.branches[i].part.value].push_back({i});
    for (const Wire& wire : design.wires)
        for (const TerminalRef end : {wire.from, wire.to}) ++wires_at_[end];
    for (std::uint32_t i = 0; i < actuations.size(); ++i)
        for (std::size_t pin = 0; pin < actuations[i].own_pins; ++pin) {
            auto& drivers = drivers_of_board_[actuations[i].pins[pin].part.value];
            if (!contains(drivers, DriverId{i})) drivers.push_back({i});
        }
}

FaultCase& CaseList::add(FaultMode mode, PartId part, std::uint16_t element) {
    FaultCase& made = cases.emplace_back();
    made.mode = mode;
    made.part = part;
    made.element = element;
    return made;
}

std::optional<BranchId> CaseList::branch_of(PartId part, std::uint16_t element) const {
    for (const BranchId id : branch_of_element_[part.value])
        if (circuit.branches[id.value].element == element) return id;
    return std::nullopt;
}

std::vector<DriverId> CaseList::driven_by_pin(TerminalRef pin) const {
    std::vector<DriverId> found;
    for (const DriverId driver : drivers_of_board_[pin.part.value]) {
        const Actuation& actuation = actuations[driver.value];
        const auto end = actuation.pins.begin() + static_cast<std::ptrdiff_t>(actuation.own_pins);
        if (std::find(actuation.pins.begin(), end, pin) != end) found.push_back(driver);
    }
    return found;
}

std::vector<DriverId> CaseList::driven_by_board(PartId board) const { return drivers_of_board_[board.value]; }

std::vector<DriverId> CaseList::led_by_control(std::size_t control) const {
    std::vector<DriverId> found;
    for (std::uint32_t i = 0; i < actuations.size(); ++i)
        if (actuations[i].by != ActuatedBy::hand && contains(actuations[i].controls, control)) found.push_back({i});
    return found;
}

std::vector<DriverId> CaseList::led_by_sensor(PartId sensor, const std::vector<TerminalIndex>& ends) const {
    std::vector<DriverId> found;
    for (std::uint32_t i = 0; i < actuations.size(); ++i)
        if (actuations[i].by != ActuatedBy::hand && contains(actuations[i].sensors, sensor)) found.push_back({i});
    if (!found.empty()) return found;
    for (const TerminalIndex end : ends) {
        const NetId net = nets.net(circuit, {sensor, end});
        for (const TerminalRef ref : nets.terminals[net.value]) {
            if (ref.part == sensor) continue;
            const auto& elements = design.part(ref.part).part->elements;
            const bool reads = std::ranges::any_of(elements, [&](const Element& element) {
                const auto* pin = std::get_if<PinElement>(&element.body);
                return pin != nullptr && pin->terminal == ref.terminal;
            });
            if (!reads) continue;
            for (const DriverId driver : drivers_of_board_[ref.part.value])
                if (!contains(found, driver)) found.push_back(driver);
        }
    }
    return found;
}

std::vector<BranchId> CaseList::wires_that_matter() const {
    std::vector<BranchId> found;
    for (const CircuitPart& part : split_by_island(circuit).parts) {
        LoopEdges edges;
        for (std::uint32_t i = 0; i < part.circuit.branches.size(); ++i) edges.add(part.circuit.branches[i], {i});
        BlockForest forest;
        forest.build(part.circuit.node_count, edges.edges, edges.is_source);
        for (std::size_t e = 0; e < edges.edges.size(); ++e) {
            if (edges.edges[e].a == edges.edges[e].b) continue;
            const BranchId id = part.branch_of[edges.branch[e].value];
            if (circuit.branches[id.value].kind == BranchKind::wire &&
                forest.has_source(forest.block_of(edges.edges[e])))
                found.push_back(id);
        }
    }
    for (std::uint32_t i = 0; i < design.wires.size(); ++i)
        if (thermistor_at(design.wires[i].from) || thermistor_at(design.wires[i].to))
            found.push_back(circuit.wire_branch[i]);
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

std::optional<std::uint16_t> CaseList::thermistor_at(TerminalRef end) const {
    if (wires_at_.at(end) != 1) return std::nullopt;
    const auto& elements = design.part(end.part).part->elements;
    for (std::size_t i = 0; i < elements.size(); ++i) {
        const auto* sensor = std::get_if<ThermistorElement>(&elements[i].body);
        if (sensor != nullptr && (sensor->between.first == end.terminal || sensor->between.second == end.terminal))
            return static_cast<std::uint16_t>(i);
    }
    return std::nullopt;
}

void CaseList::force_by_open_sensor(FaultCase& wire_open) const {
    const Wire& wire = design.wire(*wire_open.wire);
    for (const TerminalRef end : {wire.from, wire.to}) {
        const auto element = thermistor_at(end);
        if (!element) continue;
        const auto& sensor = std::get<ThermistorElement>(design.part(end.part).part->elements[*element].body);
        const std::vector<DriverId> led = led_by_sensor(end.part, {sensor.between.first, sensor.between.second});
        force(wire_open, led, sensor.curve == SensorCurve::ntc);
    }
}

void CaseList::force(FaultCase& fault, const std::vector<DriverId>& led, bool heating) const {
    for (const DriverId first : led) {
        for (const DriverId driver : actuations[first.value].drivers) {
            if (circuit.drivers[driver.value].by_hand) continue;
            const bool known =
                std::ranges::any_of(fault.forced, [&](const ForcedDriver& f) { return f.driver == driver; });
            if (!known) fault.forced.push_back({driver, (off.on[driver.value] == 0) == heating});
        }
    }
}

} // namespace trivet
