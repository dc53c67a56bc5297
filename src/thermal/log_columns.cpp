#include "thermal/log_columns.h"

#include "source/suggest.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace trivet {

namespace {

using Kind = LogColumn::Kind;

struct TimeUnit {
    std::string_view name;
    double seconds;
};
constexpr TimeUnit time_units[] = {{"s", 1.0}, {"min", 60.0}, {"h", 3600.0}};

// "plate_C", "plate (C)" and "plate [C]" are "plate" with "C".
struct NameAndUnit {
    std::string_view name;
    std::string_view unit;
};

NameAndUnit split_unit(std::string_view text) {
    const bool bracket = text.ends_with(')') || text.ends_with(']');
    const std::size_t at = bracket ? text.find_last_of("([") : text.rfind('_');
    if (at == std::string_view::npos) return {text, {}};
    NameAndUnit result{text.substr(0, at), text.substr(at + 1)};
    if (bracket) result.unit.remove_suffix(1);
    while (result.name.ends_with(' ')) result.name.remove_suffix(1);
    return result;
}

bool is_celsius(std::string_view unit) { return unit == "C" || unit == "°C" || unit == "degC"; }

std::optional<std::uint32_t> body_called(const LogNames& names, std::string_view name) {
    const auto found = std::ranges::find(names.bodies, name);
    if (found == names.bodies.end()) return std::nullopt;
    return static_cast<std::uint32_t>(found - names.bodies.begin());
}

std::optional<std::uint32_t> switch_called(const LogNames& names, std::string_view name) {
    const auto found = std::ranges::find(names.switches, name, &LogSwitch::name);
    if (found == names.switches.end()) return std::nullopt;
    return static_cast<std::uint32_t>(found - names.switches.begin());
}

// The column by its whole name, then by name and unit.
std::optional<LogColumn> column_called(const LogNames& names, std::string_view text) {
    const std::string name(text);
    if (text.empty() || text.starts_with("ignore")) return LogColumn{Kind::ignored, 0, 1.0, name};
    if (const auto body = body_called(names, text)) return LogColumn{Kind::body, *body, 1.0, name};
    if (text == "ambient") return LogColumn{Kind::ambient, 0, 1.0, name};
    if (const auto found = switch_called(names, text)) return LogColumn{Kind::on, *found, 1.0, name};
    const NameAndUnit parts = split_unit(text);
    if (parts.name == "time")
        for (const TimeUnit& unit : time_units)
            if (parts.unit == unit.name) return LogColumn{Kind::time, 0, unit.seconds, name};
    if (is_celsius(parts.unit)) {
        if (parts.name == "ambient") return LogColumn{Kind::ambient, 0, 1.0, name};
        if (const auto body = body_called(names, parts.name)) return LogColumn{Kind::body, *body, 1.0, name};
    }
    if (parts.unit == "on")
        if (const auto found = switch_called(names, parts.name)) return LogColumn{Kind::on, *found, 1.0, name};
    return std::nullopt;
}

void file_unknown(const LogNames& names, std::string_view text, Place place, Errors& errors) {
    const NameAndUnit parts = split_unit(text);
    if (text == "time" || parts.name == "time") {
        errors.push_back({ErrorKind::unknown_name, place,
                          fmt::format("the column '{}' states no known unit", shown(text)),
                          "call it time_s, time_min or time_h"});
        return;
    }
    if (!parts.unit.empty() && (parts.name == "ambient" || body_called(names, parts.name))) {
        errors.push_back({ErrorKind::unknown_name, place,
                          fmt::format("the column '{}' has the unit '{}', but temperatures are read in °C", shown(text),
                                      shown(parts.unit)),
                          fmt::format("convert it and call it {}_C", parts.name)});
        return;
    }
    std::vector<std::string> known{"ambient", "time_s", "time_min", "time_h"};
    for (const std::string& body : names.bodies) known.push_back(body);
    for (const LogSwitch& found : names.switches) known.push_back(found.name + "_on");
    const std::vector<std::string_view> views(known.begin(), known.end());
    const std::string_view near = nearest(parts.unit == "C" ? parts.name : text, views);
    const std::string hint =
        near.empty() ? std::string(did_you_mean(text, views)) : fmt::format("did you mean '{}'?", near);
    errors.push_back({ErrorKind::unknown_name, place,
                      fmt::format("no body, heater or switch is called '{}'", shown(text)),
                      fmt::format("{}; a column that is not needed may be called ignore_{}", hint, shown(text))});
}

void file_missing(const std::vector<LogColumn>& columns, const LogNames& names, Place place, Errors& errors) {
    const auto has = [&](Kind kind) { return std::ranges::find(columns, kind, &LogColumn::kind) != columns.end(); };
    if (!has(Kind::time))
        errors.push_back(
            {ErrorKind::missing_key, place, "no column says the time", "call one time_s, time_min or time_h"});
    if (!has(Kind::body))
        errors.push_back({ErrorKind::missing_key, place, "no column holds the temperature of a body",
                          fmt::format("name one after a [[body]], for example {}_C",
                                      names.bodies.empty() ? "plate" : names.bodies.front())});
    if (names.needs_ambient && !has(Kind::ambient))
        errors.push_back({ErrorKind::missing_key, place, "no column holds the temperature of the room",
                          "add a column ambient_C; the same number in every row will do"});
    for (std::uint32_t source = 0; source < names.sources.size(); ++source) {
        if (names.sources[source].empty()) continue;
        const bool told = std::ranges::any_of(columns, [&](const LogColumn& column) {
            return column.kind == Kind::on && std::ranges::find(names.switches[column.index].sources, source) !=
                                                  names.switches[column.index].sources.end();
        });
        if (!told)
            errors.push_back(
                {ErrorKind::missing_key, place, fmt::format("no column says when {} was on", names.sources[source]),
                 fmt::format("add a column {}_on with 0 or 1 in every row (0 throughout for a log of cooling)",
                             names.sources[source])});
    }
}

} // namespace

std::vector<LogColumn> read_header(const CsvReader& reader, const std::vector<Cell>& header, const LogNames& names,
                                   Errors& errors) {
    std::vector<LogColumn> columns;
    const Place start = reader.place(header.front());
    const bool numbers = std::ranges::all_of(
        header, [&](const Cell& cell) { return number_in(cell.text, reader.has_decimal_commas()).has_value(); });
    if (numbers) {
        errors.push_back({ErrorKind::missing_key, start, "the first row holds numbers instead of the columns' names",
                          "put a row such as time_s, plate_C, ambient_C, heater_on above it"});
        return {};
    }
    if (reader.is_mixed()) {
        errors.push_back({ErrorKind::syntax, start, "the first row holds separators of more than one kind",
                          "separate cells by commas only, by semicolons only or by tabs only"});
        return {};
    }
    std::set<std::pair<Kind, std::uint32_t>> seen;
    for (const Cell& cell : header) {
        const auto column = column_called(names, cell.text);
        if (!column) {
            file_unknown(names, cell.text, reader.place(cell), errors);
            columns.push_back({Kind::ignored, 0, 1.0, std::string(cell.text)});
            continue;
        }
        if (column->kind != Kind::ignored && !seen.insert({column->kind, column->index}).second)
            errors.push_back({ErrorKind::duplicate_name, reader.place(cell),
                              fmt::format("the column '{}' says the same as one before it", shown(cell.text)),
                              fmt::format("take one out, or call it ignore_{}", shown(cell.text))});
        columns.push_back(*column);
    }
    file_missing(columns, names, start, errors);
    return columns;
}

} // namespace trivet
