#include "assess/gather.h"

#include <fmt/format.h>

#include <cmath>

namespace trivet {

namespace {

struct Drawn {
    double amperes = 0.0;
    bool drives = false; // something on the net takes current from the pin
    Unknown missing;
};

// Inputs of modules on the pin's net, and coils or loads wired straight to it.
Drawn drawn_from_pin(const Gathering& from, TerminalRef pin_ref, const PinElement& pin) {
    Drawn drawn;
    const NetId net = from.analysis.nets.net(from.circuit(), pin_ref);
    for (const TerminalRef ref : from.analysis.nets.terminals[net.value]) {
        if (ref.part == pin_ref.part) continue;
        const PartUse& use = from.design.part(ref.part);
        for (const Element& element : use.part->elements) {
            const auto* input = std::get_if<InputElement>(&element.body);
            if (input == nullptr || input->terminal != ref.terminal) continue;
            drawn.drives = true;
            if (input->current)
                drawn.amperes += input->current->range.hi.si;
            else
                drawn.missing.missing.push_back(
                    fmt::format("current of {} (state it in [part.{}])", from.design.terminal_name(ref), use.name));
        }
        for (const BranchId id : from.analysis.branches_of_part[ref.part.value]) {
            const Branch& branch = from.branch(id);
            const NodeId here = from.circuit().node(ref);
            if ((branch.kind != BranchKind::coil && branch.kind != BranchKind::load) ||
                (branch.from != here && branch.to != here))
                continue;
            drawn.drives = true;
            const double first = from.circuit().parameters[branch.first_parameter].lo;
            const auto* load = std::get_if<LoadElement>(&from.element_of(branch).body);
            const double volts = pin.output_high ? pin.output_high->range.hi.si : 0.0;
            if (load != nullptr && load->behaviour == LoadBehaviour::constant_current)
                drawn.amperes += from.circuit().parameters[branch.first_parameter].hi;
            else if (load != nullptr && load->behaviour == LoadBehaviour::constant_power)
                drawn.amperes += volts > 0.0 ? from.circuit().parameters[branch.first_parameter].hi / volts : 0.0;
            else
                drawn.amperes += first > 0.0 ? volts / first : 0.0;
        }
    }
    return drawn;
}

} // namespace

void gather_pins(Gathering& to) {
    for (std::uint32_t i = 0; i < to.design.parts.size(); ++i) {
        const PartUse& use = to.design.parts[i];
        for (const Element& element : use.part->elements) {
            const auto* pin = std::get_if<PinElement>(&element.body);
            if (pin == nullptr) continue;
            const TerminalRef ref{{i}, pin->terminal};
            const Drawn drawn = drawn_from_pin(to, ref, *pin);
            if (!drawn.drives) continue;
            SubjectWriter writer(to, SubjectKind::pin, to.design.terminal_name(ref), use.place,
                                 "[part." + use.name + "]");
            if (drawn.missing.missing.empty())
                writer.number("drive_current", {drawn.amperes, dim::current});
            else
                writer.unknown("drive_current", drawn.missing);
            writer.lowest("output_current", "output_current", pin->output_current);
        }
    }
}

void gather_sensors(Gathering& to) {
    for (const SensorGround& sensor : to.analysis.sensors) {
        const PartUse& use = to.design.part(sensor.sensor);
        SubjectWriter writer(to, SubjectKind::sensor, use.name, use.place, "[part." + use.name + "]");
        Extreme shift = largest(to.analysis.envelope.probe[sensor.probe]);
        if (std::isnan(shift.value)) shift = {0.0, 0, 0};
        const Unknown& gap = to.analysis.gaps[to.circuit().island_of_node[sensor.at_board.value].value];
        gap.missing.empty() ? writer.extreme("ground_shift", shift, dim::voltage) : writer.unknown("ground_shift", gap);
    }
}

} // namespace trivet
