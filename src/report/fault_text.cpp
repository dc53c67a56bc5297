#include "report/fault_text.h"

#include "report/fault_words.h"
#include "report/guard_words.h"
#include "report/wording.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {

namespace {

struct Heading {
    std::string_view title;
    std::string_view says;
    std::string_view shade;
};
constexpr std::array<Heading, fault_class_names.size()> headings{{
    {"HAZARD", "too much heat, and nothing ends it in time", "\x1b[1;31m"},
    {"CANNOT TELL", "a heater stays on, and how hot it gets is not described", "\x1b[1;31m"},
    {"DAMAGE", "a part gets more than it bears", "\x1b[1;35m"},
    {"LATENT", "nobody notices it until a second thing fails", "\x1b[1;33m"},
    {"STOPS WORKING", "something no longer does its job, nothing gets too hot", "\x1b[1;36m"},
    {"STAYS SAFE", "nothing gets worse, or it is ended in time", "\x1b[1;32m"},
}};

std::string heading(FaultClass outcome, std::size_t count, const FaultStyle& style) {
    const Heading& of = headings.at(static_cast<std::size_t>(outcome));
    const std::string lines = paragraph("", fmt::format("{} ({}): {}", of.title, count, of.says), 0, style.width);
    if (!style.colour) return lines;
    return fmt::format("{}{}\x1b[0m{}", of.shade, of.title, lines.substr(of.title.size()));
}

// Faults with the same consequence, in the order of the first of each.
struct Gathered {
    std::string with;
    std::string consequence;
    std::vector<const FaultRow*> rows;
};

std::vector<Gathered> gather(const FaultTable& table, FaultClass outcome) {
    std::vector<Gathered> groups;
    for (const FaultRow& row : table.rows) {
        if (row.outcome != outcome) continue;
        std::string consequence = fault_consequence(row);
        const auto same = std::ranges::find_if(
            groups, [&](const Gathered& group) { return group.with == row.with && group.consequence == consequence; });
        if (same != groups.end())
            same->rows.push_back(&row);
        else
            groups.push_back({row.with, std::move(consequence), {&row}});
    }
    return groups;
}

// "heat_switch shorted; probe detached; one of the wires W8, W9 broken"
std::string listed_faults(const std::vector<const FaultRow*>& rows) {
    std::vector<std::string> items;
    std::vector<std::string_view> wires;
    for (const FaultRow* row : rows)
        if (row->wire.empty())
            items.push_back(row->fault);
        else
            wires.push_back(row->wire);
    if (!wires.empty())
        items.push_back(
            fmt::format("{} {} broken", wires.size() == 1 ? "wire" : "one of the wires", fmt::join(wires, ", ")));
    return fmt::format("{}", fmt::join(items, "; "));
}

std::string compact(const FaultTable& table, FaultClass outcome, const FaultStyle& style) {
    std::string out;
    for (const Gathered& group : gather(table, outcome)) {
        if (group.rows.size() == 1) {
            out += paragraph("", fault_sentence(*group.rows.front()), 2, style.width);
            continue;
        }
        const std::string with = group.with.empty() ? "" : fmt::format("while {}: ", group.with);
        out += paragraph("", with + group.consequence, 2, style.width);
        out += paragraph("", listed_faults(group.rows), 6, style.width);
    }
    return out;
}

std::string one_by_one(const FaultTable& table, FaultClass outcome, const FaultStyle& style) {
    std::string out;
    for (const FaultRow& row : table.rows)
        if (row.outcome == outcome) out += paragraph("", fault_sentence(row), 2, style.width);
    return out;
}

std::string guards(const FaultTable& table, const FaultStyle& style) {
    if (table.heaters.empty()) return {};
    std::string out = "\nWHO TURNS IT OFF: what alone ends a heater's current, and what makes it act\n";
    for (const GuardedHeater& heater : table.heaters) out += paragraph("", guard_sentence(heater), 2, style.width);
    return out;
}

} // namespace

bool FaultStyle::shows(FaultClass outcome) const {
    return only.empty() || std::ranges::find(only, outcome) != only.end();
}

std::string fault_text(const FaultTable& table, std::string_view title, const FaultStyle& style) {
    std::string out = paragraph("", fmt::format("{}: {}", title, fault_tally(table)), 0, style.width);
    if (const std::string sound = sound_words(table); !sound.empty())
        out += "\n" + paragraph("", sound, 0, style.width);
    if (style.only.empty()) out += guards(table, style);
    for (std::size_t i = 0; i < table.count.size(); ++i) {
        const auto outcome = static_cast<FaultClass>(i);
        if (table.count[i] == 0 || !style.shows(outcome)) continue;
        out += "\n" + heading(outcome, table.count[i], style);
        out += style.everything ? one_by_one(table, outcome, style) : compact(table, outcome, style);
    }
    return out + "\n" + paragraph("", caution, 0, style.width);
}

} // namespace trivet
