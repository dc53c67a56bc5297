#include "assess/fault_name.h"

#include <fmt/format.h>

namespace trivet {

namespace {

template <class T> bool is_a(const Design& design, const FaultCase& fault) {
    if (!fault.element || fault.wire) return false;
    return std::holds_alternative<T>(design.part(fault.part).part->elements[*fault.element].body);
}

bool is_main(const ElementBody& body) {
    return std::holds_alternative<ContactElement>(body) || std::holds_alternative<TransistorElement>(body) ||
           std::holds_alternative<CutoffElement>(body) || std::holds_alternative<FuseElement>(body) ||
           std::holds_alternative<HeaterElement>(body);
}

std::string_view words(const Design& design, const FaultCase& fault) {
    const bool is_cutoff = is_a<CutoffElement>(design, fault);
    switch (fault.mode) {
    case FaultMode::open_circuit:
        if (fault.wire) return "broken";
        return is_a<FuseElement>(design, fault) ? "blown" : "broken inside";
    case FaultMode::stuck_closed:
        return is_cutoff ? "never opens" : "stuck closed";
    case FaultMode::stuck_open:
        return is_cutoff ? "open for no reason" : "stuck open";
    case FaultMode::bridged:
        return "bridged with wire";
    case FaultMode::voltage_high:
        return "gives 20 % too much voltage";
    case FaultMode::input_open:
        return "gets no signal";
    case FaultMode::sensor_open:
        return "line broken";
    default:
        return fault_mode_names[static_cast<std::size_t>(fault.mode)];
    }
}

} // namespace

FaultNames::FaultNames(const Design& design, const std::vector<FaultCase>& cases)
    : design_(design) {
    for (const FaultCase& fault : cases) {
        if (!fault.element || fault.terminal) continue;
        elements_[fault.part.value].insert(*fault.element);
        if (is_main(design.part(fault.part).part->elements[*fault.element].body))
            main_[fault.part.value].insert(*fault.element);
    }
}

std::string FaultNames::thing(const FaultCase& fault) const {
    if (fault.control) return fmt::format("control '{}'", design_.controls[*fault.control].name);
    if (fault.wire) return fmt::format("wire {}", design_.wire(*fault.wire).name);
    if (fault.terminal) return design_.terminal_name(*fault.terminal);
    const PartUse& use = design_.part(fault.part);
    if (!fault.element || elements_.at(fault.part.value).size() == 1) return use.name;
    const auto bought_for = main_.find(fault.part.value);
    if (bought_for != main_.end() && bought_for->second == std::set{*fault.element}) return use.name;
    const std::string& element = use.part->elements[*fault.element].name;
    return element == use.name ? element : fmt::format("{} {}", use.name, element);
}

std::string FaultNames::operator()(const FaultCase& fault) const {
    return fmt::format("{} {}", thing(fault), words(design_, fault));
}

} // namespace trivet
