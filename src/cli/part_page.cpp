#include "cli/part_page.h"

#include "catalog/read_element.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

namespace {

std::string terminal_line(const TerminalSpec& terminal) {
    std::string line = fmt::format("  {:<8}", terminal.name);
    if (terminal.kind != TerminalKind::unstated)
        line += fmt::format(" {}", terminal_kind_names[static_cast<std::size_t>(terminal.kind)]);
    if (terminal.area) line += ", takes " + to_text(terminal.area->range);
    if (terminal.rated_current) line += ", " + to_text(terminal.rated_current->range);
    if (terminal.mains) line += ", mains voltage";
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
}

bool same_table(const Element& a, const Element& b) { return a.body.index() == b.body.index() && a.place == b.place; }

// Pins of one table of the file are alike but for their terminal: they are shown once, under all their names.
std::string element_title(const Part& part, std::size_t index) {
    const Element& element = part.elements[index];
    const std::string_view kind = element_kind_names.at(element.body.index());
    std::string names = element.name;
    for (std::size_t i = index + 1; i < part.elements.size() && same_table(element, part.elements[i]); ++i)
        names += ", " + part.elements[i].name;
    return names == kind ? names : fmt::format("{} ({})", names, kind);
}

std::string element_table(const Part& part, std::size_t index) {
    PropertySource values(part);
    ElementBody body = part.elements[index].body;
    read_element(values, body);
    std::string out = element_title(part, index) + '\n';
    for (const ShownValue& value : values.shown()) {
        std::string line = fmt::format("  {:<24}  {:<24}", value.key, value.text);
        if (value.basis) line += fmt::format("  {}", basis_names.at(static_cast<std::size_t>(*value.basis)));
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + '\n';
    }
    return out;
}

std::string element_tables(const Part& part) {
    std::string out;
    for (std::size_t i = 0; i < part.elements.size(); ++i) {
        if (i > 0 && same_table(part.elements[i - 1], part.elements[i])) continue;
        out += "\n" + element_table(part, i);
    }
    return out;
}

} // namespace

std::string part_page(const Part& part, const Sources& sources) {
    std::string out = fmt::format("{}\n{}\n\nValues: {} ({}). Defined in {}:{}.\n", part.name, part.title,
                                  basis_names[static_cast<std::size_t>(part.basis)], part.source,
                                  sources.name(part.place.file), part.place.line);
    if (const auto& limit = part.temperature_limit) {
        out += fmt::format("It may sit for ever where it is up to {} ({}).\n", to_text(limit->range),
                           basis_names.at(static_cast<std::size_t>(limit->basis)));
    }
    if (!part.terminals.empty()) out += "\nTerminals\n";
    for (const TerminalSpec& terminal : part.terminals) out += terminal_line(terminal);
    out += element_tables(part);
    out += "\nIts definition; copy it into a file of your own parts to change it\n\n";
    out += sources.text(part.place.file);
    if (!out.ends_with('\n')) out += '\n';
    return out;
}

} // namespace trivet
