#include "cli/part_page.h"

#include "units/format.h"

#include <fmt/format.h>

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

} // namespace

std::string part_page(const Part& part, const Sources& sources) {
    std::string out = fmt::format("{}\n{}\n\nValues: {} ({}). Defined in {}:{}.\n", part.name, part.title,
                                  basis_names[static_cast<std::size_t>(part.basis)], part.source,
                                  sources.name(part.place.file), part.place.line);
    if (!part.terminals.empty()) out += "\nTerminals\n";
    for (const TerminalSpec& terminal : part.terminals) out += terminal_line(terminal);
    out += "\nIts definition; copy it into a file of your own parts to change it\n\n";
    out += sources.text(part.place.file);
    if (!out.ends_with('\n')) out += '\n';
    return out;
}

} // namespace trivet
