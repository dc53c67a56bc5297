#include "report/fault_csv.h"

#include "report/csv_cell.h"
#include "report/fault_words.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace trivet {

namespace {

std::string names(const std::vector<std::string>& list) { return fmt::format("{}", fmt::join(list, " ")); }
std::string degrees(Temperature t) { return fmt::format("{:.1f}", in_celsius(t)); }

std::string line(const FaultRow& row, const Sources& sources) {
    std::vector<std::string> cells{std::string(fault_class_names.at(static_cast<std::size_t>(row.outcome))),
                                   row.fault,
                                   row.with,
                                   row.mode,
                                   row.place.line == 0 ? "" : std::string(sources.name(row.place.file)),
                                   row.place.line == 0 ? "" : fmt::format("{}", row.place.line),
                                   row.assumed ? "yes" : "no",
                                   names(row.stuck_on)};
    const FaultHeat none;
    const FaultHeat& heat = row.heat ? *row.heat : none;
    const bool opens = !heat.stopped_by.empty();
    cells.insert(cells.end(), {heat.stopped_by, opens ? fmt::format("{:.0f}", heat.stopped_after.si) : "", heat.hottest,
                               heat.hottest.empty() ? "" : degrees(heat.hottest_at)});
    if (heat.passed)
        cells.insert(cells.end(), {heat.passed->body, degrees(heat.passed->reached), heat.passed->limit,
                                   degrees(heat.passed->limit_at)});
    else
        cells.insert(cells.end(), 4, {});
    cells.push_back(names(row.unfed));
    cells.push_back(fault_consequence(row));
    std::string out;
    for (const std::string& cell : cells) out += (out.empty() ? "" : ",") + csv_cell(cell);
    return out + "\n";
}

} // namespace

std::string fault_csv(const FaultTable& table, const Sources& sources, const std::vector<FaultClass>& only) {
    std::string out = "outcome,fault,with,mode,file,line,worst_assumed,stays_on,opens,opens_after_s,hottest,hottest_C,"
                      "too_hot,too_hot_C,limit_of,limit_C,no_current,consequence\n";
    const auto shown = [&](const FaultRow& row) {
        return only.empty() || std::ranges::find(only, row.outcome) != only.end();
    };
    if (table.sound && shown(*table.sound)) out += line(*table.sound, sources);
    for (const FaultRow& row : table.rows)
        if (shown(row)) out += line(row, sources);
    return out;
}

} // namespace trivet
