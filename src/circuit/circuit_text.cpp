#include "circuit/circuit.h"

#include <fmt/format.h>

#include <array>
#include <string_view>

namespace trivet {

namespace {

constexpr std::array<std::string_view, 14> kind_names{"source", "fuse",      "cutoff",     "contact", "transistor",
                                                      "coil",   "converter", "heater",     "load",    "conductor",
                                                      "diode",  "resistor",  "thermistor", "wire"};
static_assert(kind_names.size() == static_cast<std::size_t>(BranchKind::wire) + 1);

// "[0.005..0.01]", "[24]", with a question mark for a stand-in.
std::string to_text(const Parameter& parameter) {
    const std::string_view mark = parameter.stated ? "" : "?";
    if (parameter.lo == parameter.hi) return fmt::format(" [{:.4g}{}]", parameter.lo, mark);
    return fmt::format(" [{:.4g}..{:.4g}{}]", parameter.lo, parameter.hi, mark);
}

} // namespace

std::string to_text(const Circuit& circuit, const Design& design) {
    std::string text;
    for (const Branch& branch : circuit.branches) {
        const bool is_wire = branch.kind == BranchKind::wire;
        text += fmt::format("{} {} {}-{}", kind_names[static_cast<std::size_t>(branch.kind)],
                            is_wire ? design.wire(branch.wire).name : design.part(branch.part).name, branch.from.value,
                            branch.to.value);
        if (branch.kind == BranchKind::converter)
            text += fmt::format(" to {}-{}", branch.output_from.value, branch.output_to.value);
        for (std::size_t i = 0; i < branch.parameters; ++i)
            text += to_text(circuit.parameters[branch.first_parameter + i]);
        if (branch.start_factor != 1.0) text += fmt::format(" starts x{:.4g}", branch.start_factor);
        if (branch.driver)
            text += fmt::format(" driven by {}{}", circuit.drivers[branch.driver->value].name,
                                branch.rests_closed ? ", rests closed" : "");
        text += '\n';
    }
    return text;
}

} // namespace trivet
