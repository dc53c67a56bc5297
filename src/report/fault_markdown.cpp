#include "report/fault_markdown.h"

#include "report/fault_words.h"
#include "report/guard_words.h"
#include "report/wording.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {

namespace {

// A forge would read these signs as markup.
std::string plain(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\n' || c == '\r') {
            out += ' ';
            continue;
        }
        if (std::string_view("\\|`*_<>[]#~").find(c) != std::string_view::npos) out += '\\';
        out += c;
    }
    return out;
}

std::string capital(std::string_view text) {
    std::string out(text);
    out.front() = static_cast<char>(out.front() - 'a' + 'A'); // the names of the classes
    return out;
}

} // namespace

std::string fault_markdown(const FaultTable& table, std::string_view title, const std::vector<FaultClass>& only) {
    std::string out = fmt::format("# {}: what one failure leads to\n\n{}\n", plain(title), fault_tally(table));
    if (const std::string sound = sound_words(table); !sound.empty()) out += fmt::format("\n**{}**\n", plain(sound));
    if (only.empty() && !table.heaters.empty()) {
        out += "\n## Who turns it off\n\n";
        for (const GuardedHeater& heater : table.heaters) out += fmt::format("- {}\n", plain(guard_sentence(heater)));
    }
    for (std::size_t i = 0; i < table.count.size(); ++i) {
        const auto outcome = static_cast<FaultClass>(i);
        if (table.count[i] == 0 || (!only.empty() && std::ranges::find(only, outcome) == only.end())) continue;
        out += fmt::format("\n## {} ({})\n\n| what fails | what happens |\n|---|---|\n", capital(fault_class_names[i]),
                           table.count[i]);
        for (const FaultRow& row : table.rows)
            if (row.outcome == outcome)
                out += fmt::format("| {} | {} |\n", plain(fault_title(row)), plain(fault_consequence(row)));
    }
    return out + fmt::format("\n{}\n", caution);
}

} // namespace trivet
