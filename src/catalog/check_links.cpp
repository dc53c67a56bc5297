#include "catalog/read_part.h"
#include "source/suggest.h"
#include "units/format.h"

#include <fmt/format.h>

namespace trivet {
namespace {

// What can drive a switch of the part: the terminals of its inputs and, for contacts, its coils.
struct Drivers {
    std::vector<std::string_view> inputs;
    std::vector<TerminalIndex> references; // of `inputs`
    std::vector<std::string_view> coils;
};

Drivers drivers_of(const Part& part) {
    Drivers drivers;
    for (const Element& element : part.elements) {
        if (const auto* input = std::get_if<InputElement>(&element.body)) {
            if (input->terminal.value >= part.terminals.size()) continue;
            drivers.inputs.push_back(part.terminals[input->terminal.value].name);
            drivers.references.push_back(input->reference);
        } else if (std::holds_alternative<CoilElement>(element.body)) {
            drivers.coils.push_back(element.name);
        }
    }
    return drivers;
}

void unknown_driver(const Element& element, std::string_view named, std::span<const std::string_view> known,
                    Errors& errors) {
    const std::string hint = known.empty() ? "add an element of kind \"input\" for the terminal that switches it"
                                           : did_you_mean(named, known);
    errors.push_back(
        {ErrorKind::unknown_name, element.place,
         fmt::format("'{}' is driven by '{}', which is no input or coil of this part", element.name, named), hint});
}

void check_contact(const Element& element, const ContactElement& contact, const Drivers& drivers, Errors& errors) {
    if (contact.driven_by.empty() != contact.by_hand) {
        const std::string hint = "write driven_by = \"IN\" (an input's terminal or a coil) or operated_by = \"hand\"";
        if (contact.by_hand) {
            errors.push_back({ErrorKind::ambiguous, element.place,
                              fmt::format("the contact '{}' is operated by hand and also driven", element.name), hint});
        } else {
            errors.push_back({ErrorKind::missing_key, element.place,
                              fmt::format("nothing says what operates the contact '{}'", element.name), hint});
        }
        return;
    }
    if (contact.by_hand) return;
    std::vector<std::string_view> known = drivers.inputs;
    known.insert(known.end(), drivers.coils.begin(), drivers.coils.end());
    if (std::ranges::find(known, contact.driven_by) == known.end()) {
        unknown_driver(element, contact.driven_by, known, errors);
    }
}

void check_transistor(const Element& element, TransistorElement& transistor, const Drivers& drivers, Errors& errors) {
    if (transistor.driven_by.empty()) {
        errors.push_back({ErrorKind::missing_key, element.place,
                          fmt::format("nothing says what drives the transistor '{}'", element.name),
                          "write driven_by = \"IN\", the terminal of an element of kind \"input\""});
        return;
    }
    const auto found = std::ranges::find(drivers.inputs, transistor.driven_by);
    if (found == drivers.inputs.end()) return unknown_driver(element, transistor.driven_by, drivers.inputs, errors);
    if (transistor.reference == unset_terminal) {
        transistor.reference = drivers.references[static_cast<std::size_t>(found - drivers.inputs.begin())];
    }
}

void check_converter(const Element& element, const ConverterElement& converter, Errors& errors) {
    if (!converter.output_voltage || !converter.output_range) return;
    const auto set = converter.output_voltage->range;
    const auto possible = converter.output_range->range;
    if (possible.contains(set.lo) && possible.contains(set.hi)) return;
    errors.push_back({ErrorKind::out_of_range, converter.output_voltage->place,
                      fmt::format("'{}' is set to {}, but it can only be set within {}", element.name, to_text(set),
                                  to_text(possible)),
                      "choose another output or another converter"});
}

} // namespace

void check_links(Part& part, Errors& errors) {
    const Drivers drivers = drivers_of(part);
    for (Element& element : part.elements) {
        if (const auto* contact = std::get_if<ContactElement>(&element.body)) {
            check_contact(element, *contact, drivers, errors);
        } else if (auto* transistor = std::get_if<TransistorElement>(&element.body)) {
            check_transistor(element, *transistor, drivers, errors);
        } else if (const auto* converter = std::get_if<ConverterElement>(&element.body)) {
            check_converter(element, *converter, errors);
        }
    }
}

} // namespace trivet
