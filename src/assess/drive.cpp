#include "assess/drive.h"

#include "circuit/paths.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trivet {

namespace {

const std::string& driver_name(const Element& element) {
    static const std::string none;
    if (const auto* contact = std::get_if<ContactElement>(&element.body)) return contact->driven_by;
    if (const auto* transistor = std::get_if<TransistorElement>(&element.body)) return transistor->driven_by;
    return none;
}

NetId net_of(const Gathering& from, PartId part, TerminalIndex terminal) {
    return from.analysis.nets.net(from.circuit(), {part, terminal});
}

// Pulls on an input while nothing drives it: conductance, and conductance times level.
struct Pulls {
    double conductance = 0.0;
    double weighted = 0.0;
    void add(double ohms, double volts) {
        if (ohms <= 0.0) return;
        conductance += 1.0 / ohms;
        weighted += volts / ohms;
    }
};

// Strongest wrong-way and weakest right-way pulls: the worst level of the input in reset.
Pulls pulls_in_reset(const Gathering& from, PartId part, const InputElement& input, const PinBehind* behind) {
    Pulls pulls;
    const double logic = behind != nullptr && behind->pin->output_high ? behind->pin->output_high->range.hi.si : 0.0;
    if (input.pull) pulls.add(input.pull->range.hi.si, input.active_high ? 0.0 : logic);
    if (behind != nullptr && behind->pin->reset_pull) {
        const double ohms = behind->pin->reset_pull->range.lo.si;
        if (behind->pin->in_reset == ResetState::pulled_up) pulls.add(ohms, logic);
        if (behind->pin->in_reset == ResetState::pulled_down) pulls.add(ohms, 0.0);
    }
    const NetId net = net_of(from, part, input.terminal);
    const NetId ground = net_of(from, part, input.reference);
    const IslandId island = from.circuit().island_of_node[from.circuit().node({part, input.terminal}).value];
    for (const BranchId id : from.circuit().branches_of_island[island.value]) {
        const Branch& branch = from.branch(id);
        if (branch.kind != BranchKind::resistor) continue;
        const auto& of_node = from.analysis.nets.of_node;
        const NetId a = of_node[branch.from.value];
        const NetId b = of_node[branch.to.value];
        if (a != net && b != net) continue;
        const NetId other = a == net ? b : a;
        pulls.add(from.circuit().parameters[branch.first_parameter].hi, other == ground ? 0.0 : logic);
    }
    return pulls;
}

std::variant<bool, Unknown> input_off_in_reset(const Gathering& from, PartId part, const InputElement& input,
                                               const std::optional<PinBehind>& behind) {
    const std::string& name = from.design.part(part).name;
    const std::string where = fmt::format("[part.{}]", name);
    const ResetState state = behind ? behind->pin->in_reset : ResetState::floating;
    if (state == ResetState::unstated)
        return not_stated("in_reset", behind->name, fmt::format("[part.{}]", from.design.part(behind->board).name));
    if (state == ResetState::pulses) return false;
    if (state == ResetState::drives_high) return !input.active_high;
    if (state == ResetState::drives_low) return input.active_high;
    const Pulls pulls = pulls_in_reset(from, part, input, behind ? &*behind : nullptr);
    if (pulls.conductance == 0.0) {
        if (input.when_open == "unstated") return not_stated("when_open", name, where);
        return input.when_open == "off";
    }
    if (!input.off_voltage) {
        // Only pulls towards rest: then what the module does when left open is also what it does in reset.
        const bool only_rest = state == ResetState::floating || (state == ResetState::pulled_down) == input.active_high;
        if (only_rest && input.when_open != "unstated") return input.when_open == "off";
        return not_stated("off_voltage", name, where);
    }
    const double level = pulls.weighted / pulls.conductance;
    return input.active_high ? level <= input.off_voltage->range.lo.si : level >= input.off_voltage->range.hi.si;
}

} // namespace

Drive find_drive(const Gathering& from, BranchId switch_branch) {
    const Branch& branch = from.branch(switch_branch);
    const Part& part = *from.part_of(branch).part;
    const std::string& driver = driver_name(from.element_of(branch));
    Drive drive;
    if (driver.empty()) return drive;
    for (const Element& element : part.elements) {
        const auto* input = std::get_if<InputElement>(&element.body);
        if (input != nullptr && part.terminals[input->terminal.value].name == driver) {
            drive.input = input;
            drive.pin =
                pin_on_net(from.design, from.analysis.nets, net_of(from, branch.part, input->terminal), branch.part);
        }
    }
    for (const BranchId id : from.analysis.branches_of_part[branch.part.value]) {
        const Branch& own = from.branch(id);
        if (own.kind != BranchKind::coil || from.element_of(own).name != driver) continue;
        drive.coil = id;
        for (const NodeId end : {own.from, own.to})
            if (!drive.pin)
                drive.pin =
                    pin_on_net(from.design, from.analysis.nets, from.analysis.nets.of_node[end.value], branch.part);
    }
    return drive;
}

std::string reset_remark(const Gathering& from, BranchId switch_branch, const Drive& drive) {
    constexpr std::array<std::string_view, reset_state_names.size()> does{"does something nobody states",
                                                                          "floats",
                                                                          "is pulled up",
                                                                          "is pulled down",
                                                                          "drives high",
                                                                          "drives low",
                                                                          "pulses"};
    if (drive.pin)
        return fmt::format("{} {} while the controller starts", drive.pin->name,
                           does[static_cast<std::size_t>(drive.pin->pin->in_reset)]);
    if (drive.input != nullptr) return "no controller pin is wired to its input";
    if (drive.coil) return "the switches that feed its coil decide";
    return from.branch(switch_branch).rests_closed ? "it rests closed" : "it rests open";
}

std::variant<bool, Unknown> open_in_reset(const Gathering& from, BranchId switch_branch) {
    const Branch& branch = from.branch(switch_branch);
    const Drive drive = find_drive(from, switch_branch);
    const bool rests_closed = branch.rests_closed;
    if (drive.input != nullptr) {
        auto off = input_off_in_reset(from, branch.part, *drive.input, drive.pin);
        if (auto* known = std::get_if<bool>(&off)) return *known != rests_closed;
        return off;
    }
    if (!drive.coil) return !rests_closed;
    if (drive.pin)
        return drive.pin->pin->in_reset != ResetState::drives_high && drive.pin->pin->in_reset != ResetState::pulses &&
               !rests_closed;
    bool coil_dead = false;
    for (const BranchId id : from.analysis.interrupters[drive.coil->value]) {
        const BranchKind kind = from.branch(id).kind;
        if (kind != BranchKind::transistor && kind != BranchKind::contact) continue;
        if (from.branch(id).part == branch.part) continue;
        const auto open = open_in_reset(from, id);
        if (std::holds_alternative<Unknown>(open)) return open;
        coil_dead = coil_dead || std::get<bool>(open);
    }
    return coil_dead != rests_closed;
}

} // namespace trivet
