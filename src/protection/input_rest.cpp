#include "protection/input_rest.h"

#include <algorithm>

namespace trivet {

namespace {

const InputElement* input_of(const Design& design, const Actuation& actuation) {
    if (!actuation.input) return nullptr;
    for (const Element& element : design.part(actuation.part).part->elements) {
        const auto* input = std::get_if<InputElement>(&element.body);
        if (input != nullptr && input->terminal == actuation.input->terminal) return input;
    }
    return nullptr;
}

std::optional<TerminalIndex> reference_of(const Design& design, const Actuation& actuation) {
    if (const InputElement* input = input_of(design, actuation)) return input->reference;
    const Part& part = *design.part(actuation.part).part;
    for (const Element& element : part.elements) {
        const auto* transistor = std::get_if<TransistorElement>(&element.body);
        if (transistor != nullptr && part.terminal(transistor->driven_by) == actuation.input->terminal.value)
            return transistor->reference;
    }
    return std::nullopt;
}

// Whether a resistor pulls the input low (towards its reference) or high; empty without any.
std::optional<bool> pulled_high(const Circuit& circuit, const Nets& nets, const Design& design,
                                const Actuation& actuation) {
    const auto reference = reference_of(design, actuation);
    if (!reference || *reference == unset_terminal) return std::nullopt;
    const NetId at_input = nets.net(circuit, *actuation.input);
    const NetId low = nets.net(circuit, {actuation.part, *reference});
    std::optional<bool> high;
    for (const Branch& branch : circuit.branches) {
        if (branch.kind != BranchKind::resistor) continue;
        const NetId from = nets.of_node[branch.from.value];
        const NetId to = nets.of_node[branch.to.value];
        if (from != at_input && to != at_input) continue;
        const NetId other = from == at_input ? to : from;
        if (other == low) return false;
        const bool on_supply = std::ranges::any_of(circuit.branches, [&](const Branch& supply) {
            return (supply.kind == BranchKind::source && nets.of_node[supply.from.value] == other) ||
                   (supply.kind == BranchKind::converter && nets.of_node[supply.output_from.value] == other);
        });
        if (on_supply) high = true;
    }
    return high;
}

} // namespace

bool high_means_on(const Design& design, const Actuation& actuation) {
    const InputElement* input = input_of(design, actuation);
    return input == nullptr || input->active_high;
}

InputRest rest_of_input(const Circuit& circuit, const Nets& nets, const Design& design, const Actuation& actuation) {
    if (!actuation.input) return {};
    if (const InputElement* input = input_of(design, actuation)) {
        if (input->when_open != "unstated") return {input->when_open == "on", false};
        if (input->pull) return {};
    }
    const auto high = pulled_high(circuit, nets, design, actuation);
    if (!high) return {true, true};
    return {*high == high_means_on(design, actuation), false};
}

} // namespace trivet
