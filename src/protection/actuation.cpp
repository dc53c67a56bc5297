#include "protection/actuation.h"

#include "circuit/list_search.h"
#include "circuit/union_find.h"
#include "protection/trace.h"

#include <algorithm>

namespace trivet {

namespace {

const std::string& driver_name(const Circuit& circuit, DriverId driver) {
    return circuit.drivers[driver.value].driven_by;
}

// What one driver's own input or coil is wired to.
struct Nearby {
    std::optional<TerminalRef> input;
    std::optional<BranchId> coil;
    NetSurroundings around;
    bool fed = false; // the coil: by a supply, with every switch closed
};

Nearby look_nearby(CommandTrace& trace, const Circuit& circuit, const Design& design, DriverId driver) {
    Nearby found;
    const PartId part = circuit.drivers[driver.value].part;
    const std::string& name = driver_name(circuit, driver);
    found.coil = trace.branch_of_element(part, name);
    if (found.coil) {
        const Branch& coil = circuit.branches[found.coil->value];
        found.around = trace.around({coil.from, coil.to}, part);
        const Supplying& feeding = trace.supplying(*found.coil);
        found.fed = !feeding.sources.empty();
        for (const BranchId id : feeding.devices) add_once(found.around.passes, id);
        return found;
    }
    const int terminal = design.part(part).part->terminal(name);
    if (terminal < 0) return found;
    found.input = TerminalRef{part, {static_cast<std::uint16_t>(terminal)}};
    found.around = trace.around({circuit.node(*found.input)}, part);
    return found;
}

ActuatedBy nearest(const Nearby& nearby) {
    if (!nearby.around.pins.empty()) return ActuatedBy::pin;
    if (!nearby.around.signals.empty()) return ActuatedBy::signal;
    if (!nearby.around.passes.empty()) return ActuatedBy::switches;
    const bool fixed = nearby.coil ? nearby.fed : nearby.around.reaches_supply;
    return fixed ? ActuatedBy::fixed : ActuatedBy::nothing;
}

// What feeds the boards and modules of the chain.
void add_supplies(Actuation& to, CommandTrace& trace) {
    std::vector<PartId> parts{to.part};
    for (const PartId board : to.boards) add_once(parts, board);
    for (const BranchId id : to.through) add_once(parts, trace.part_of(id));
    for (const PartId part : parts) {
        for (const BranchId consumer : trace.consumers_of(part)) {
            const Supplying& feeding = trace.supplying(consumer);
            for (const BranchId id : feeding.interrupting) add_once(to.fed_through, id);
            for (const BranchId id : feeding.converters) add_once(to.converters, id);
            for (const BranchId id : feeding.sources) add_once(to.supplies, id);
        }
    }
}

void add_controls(Actuation& to, const Circuit& circuit, const Design& design) {
    std::vector<PartId> parts{to.part};
    for (const DriverId driver : to.drivers) add_once(parts, circuit.drivers[driver.value].part);
    for (std::size_t i = 0; i < design.controls.size(); ++i) {
        const Control& control = design.controls[i];
        if (std::ranges::none_of(control.drives, [&](PartId driven) { return contains(parts, driven); })) continue;
        add_once(to.controls, i);
        for (const PartId sensor : control.senses) add_once(to.sensors, sensor);
    }
}

Actuation trace_driver(CommandTrace& trace, const Circuit& circuit, const Design& design, DriverId driver) {
    Actuation result;
    result.part = circuit.drivers[driver.value].part;
    result.driver = driver;
    result.drivers = {driver};
    for (std::size_t next = 0; next < result.drivers.size(); ++next) {
        const DriverId here = result.drivers[next];
        const bool by_hand = circuit.drivers[here.value].by_hand;
        const Nearby nearby = by_hand ? Nearby{} : look_nearby(trace, circuit, design, here);
        if (next == 0) {
            result.input = nearby.input;
            result.coil = nearby.coil;
            result.by = by_hand ? ActuatedBy::hand : nearest(nearby);
        }
        for (const TerminalRef pin : nearby.around.pins) {
            add_once(result.pins, pin);
            add_once(result.boards, pin.part);
        }
        if (next == 0) result.own_pins = result.pins.size();
        for (const PartId sensor : nearby.around.signals) add_once(result.sensors, sensor);
        for (const BranchId id : nearby.around.passes) {
            const Branch& branch = circuit.branches[id.value];
            if (branch.kind == BranchKind::cutoff) add_once(result.sensors, branch.part);
            if (branch.driver == driver) result.returns_to_itself = true;
            add_once(result.through, id);
            if (branch.driver) add_once(result.drivers, *branch.driver);
        }
    }
    add_supplies(result, trace);
    for (const BranchId id : result.fed_through)
        if (circuit.branches[id.value].driver == driver) result.returns_to_itself = true;
    add_controls(result, circuit, design);
    return result;
}

} // namespace

std::vector<Actuation> actuations_of_drivers(const Circuit& circuit, const Nets& nets, const Design& design) {
    CommandTrace trace(circuit, nets, design);
    std::vector<Actuation> result;
    for (std::uint32_t i = 0; i < circuit.drivers.size(); ++i)
        result.push_back(trace_driver(trace, circuit, design, {i}));
    return result;
}

Actuation actuation_of_cutoff(const Circuit& circuit, const Design& design, BranchId cutoff) {
    const Branch& branch = circuit.branches[cutoff.value];
    Actuation result;
    result.part = branch.part;
    if (branch.kind != BranchKind::cutoff) return result;
    result.by = ActuatedBy::heat;
    result.sensors = {branch.part};
    for (std::size_t i = 0; i < design.controls.size(); ++i)
        if (contains(design.controls[i].drives, branch.part) || contains(design.controls[i].senses, branch.part))
            result.controls.push_back(i);
    return result;
}

std::vector<SharedThing> what_is_shared(const Circuit& circuit, const Actuation& a, const Actuation& b) {
    std::vector<SharedThing> shared;
    const auto part_of = [&](BranchId id) { return circuit.branches[id.value].part; };
    const auto compare = [&](Shared kind, const auto& first, const auto& second, const auto& owner) {
        for (const auto& item : first)
            if (contains(second, item)) shared.push_back({kind, owner(item), 0});
    };
    if (a.part == b.part) shared.push_back({Shared::part, a.part, 0});
    if (a.driver && a.driver == b.driver) shared.push_back({Shared::driver, a.part, 0});
    compare(Shared::passed_on_by, a.through, b.through, part_of);
    // The one may itself pass on the other's command.
    const auto passes_on = [&](const Actuation& one, const Actuation& other) {
        if (std::ranges::any_of(other.through, [&](BranchId id) { return part_of(id) == one.part; }))
            shared.push_back({Shared::passed_on_by, one.part, 0});
    };
    passes_on(a, b);
    passes_on(b, a);
    compare(Shared::board, a.boards, b.boards, [](PartId part) { return part; });
    compare(Shared::pin, a.pins, b.pins, [](TerminalRef pin) { return pin.part; });
    compare(Shared::sensor, a.sensors, b.sensors, [](PartId part) { return part; });
    for (const std::size_t control : a.controls)
        if (contains(b.controls, control)) shared.push_back({Shared::control, a.part, control});
    compare(Shared::converter, a.converters, b.converters, part_of);
    compare(Shared::supply, a.supplies, b.supplies, part_of);
    return shared;
}

bool are_independent(const Circuit& circuit, const Actuation& a, const Actuation& b) {
    const auto shared = what_is_shared(circuit, a, b);
    return std::ranges::all_of(
        shared, [](const SharedThing& s) { return s.kind == Shared::converter || s.kind == Shared::supply; });
}

std::vector<std::vector<std::size_t>> independent_groups(const Circuit& circuit,
                                                         const std::vector<Actuation>& actuations) {
    UnionFind joined(actuations.size());
    for (std::uint32_t i = 0; i < actuations.size(); ++i)
        for (std::uint32_t j = i + 1; j < actuations.size(); ++j)
            if (!are_independent(circuit, actuations[i], actuations[j])) joined.join(i, j);
    std::uint32_t count = 0;
    const std::vector<std::uint32_t> number = joined.numbered(count);
    std::vector<std::vector<std::size_t>> groups(count);
    for (std::size_t i = 0; i < actuations.size(); ++i) groups[number[i]].push_back(i);
    return groups;
}

} // namespace trivet
