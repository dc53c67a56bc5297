#include "thermal/heat_log.h"

#include "source/utf8.h"
#include "thermal/log_columns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

using Kind = LogColumn::Kind;

constexpr std::size_t most_errors = 200;
constexpr double coldest = -90.0; // °C
constexpr double hottest = 700.0;
constexpr double gap = 10.0; // times the median interval

// Builds the log row by row.
class LogBuilder {
public:
    LogBuilder(const SourceFile& file, const LogNames& names, Errors& errors)
        : names_(names)
        , errors_(errors)
        , reader_(file) {}

    HeatLog read();

private:
    void read_row(const std::vector<Cell>& cells);
    bool right_size(const std::vector<Cell>& cells);
    void read_time(const Cell& cell, const LogColumn& column);
    double temperature(const Cell& cell, const LogColumn& column);
    double share(const Cell& cell, const LogColumn& column);
    void check_gaps();
    bool all_off(std::size_t row) const;
    void error(ErrorKind kind, const Cell& cell, std::string message, std::string hint) {
        errors_.push_back({kind, reader_.place(cell), std::move(message), std::move(hint)});
    }
    std::string number_hint() const {
        return reader_.has_decimal_commas() ? "write a plain number such as 23.5 or 23,5"
                                            : "write a plain number such as 23.5";
    }

    const LogNames& names_;
    Errors& errors_;
    CsvReader reader_;
    std::vector<LogColumn> columns_;
    HeatLog log_;
    std::vector<Cell> time_cells_; // [row]
    double last_air_ = std::nan("");
};

// The empty cells that spreadsheets leave at the end of a row do not count.
bool LogBuilder::right_size(const std::vector<Cell>& cells) {
    const bool empty_end =
        cells.size() > columns_.size() && std::all_of(cells.begin() + static_cast<std::ptrdiff_t>(columns_.size()),
                                                      cells.end(), [](const Cell& cell) { return cell.text.empty(); });
    if (cells.size() == columns_.size() || empty_end) return true;
    const std::string counts = fmt::format("this row has {} cell{}, but the first row names {} columns", cells.size(),
                                           cells.size() == 1 ? "" : "s", columns_.size());
    std::string hint = "an empty cell still needs its separator";
    if (reader_.separator() == ',' && cells.size() > columns_.size())
        hint = "if the numbers have decimal commas, separate the cells by semicolons";
    else if (cells.front().text.find_first_of(",;\t") != std::string_view::npos)
        hint = "use the same separator in every row";
    error(ErrorKind::syntax, cells.front(), counts, hint);
    return false;
}

void LogBuilder::read_time(const Cell& cell, const LogColumn& column) {
    const auto value = number_in(cell.text, reader_.has_decimal_commas());
    if (!value) {
        const std::string what =
            cell.text.empty() ? "this row states no time" : fmt::format("'{}' is not a time", shown(cell.text));
        error(ErrorKind::wrong_type, cell, what, number_hint());
        return;
    }
    const double seconds = *value * column.unit;
    if (!log_.times.empty() && !(seconds > log_.times.back().si))
        error(ErrorKind::out_of_range, cell,
              fmt::format("the time {} does not come after {} in line {}", shown(cell.text),
                          shown(time_cells_.back().text), time_cells_.back().line),
              "every row must be later than the one above it; sort the rows or take out what was read twice");
    log_.times.push_back({seconds});
    time_cells_.push_back(cell);
}

// In kelvin; NaN where nothing was read.
double LogBuilder::temperature(const Cell& cell, const LogColumn& column) {
    if (cell.text.empty() || cell.text == "nan" || cell.text == "NaN") return std::nan("");
    const auto value = number_in(cell.text, reader_.has_decimal_commas());
    if (!value) {
        error(ErrorKind::wrong_type, cell,
              fmt::format("'{}' in the column {} is not a temperature", shown(cell.text), shown(column.name)),
              number_hint() + ", or leave the cell empty where nothing was read");
        return std::nan("");
    }
    if (*value < coldest || *value > hottest) {
        error(ErrorKind::out_of_range, cell,
              fmt::format("{} °C in the column {} lies outside {} to {} °C", shown(cell.text), shown(column.name),
                          coldest, hottest),
              "leave the cell empty where the sensor failed");
        return std::nan("");
    }
    return celsius(*value).si;
}

double LogBuilder::share(const Cell& cell, const LogColumn& column) {
    const auto value = number_in(cell.text, reader_.has_decimal_commas());
    if (value && *value >= 0.0 && *value <= 1.0) return *value;
    const std::string what = cell.text.empty() ? fmt::format("the column {} is empty here", shown(column.name))
                                               : fmt::format("'{}' in the column {} is not a number from 0 to 1",
                                                             shown(cell.text), shown(column.name));
    error(ErrorKind::out_of_range, cell, what, "0 is off, 1 is on until the next row, 0.4 is on for 40 % of that time");
    return 0.0;
}

void LogBuilder::read_row(const std::vector<Cell>& cells) {
    std::vector<double> on(names_.sources.size(), 1.0);
    for (std::size_t i = 0; i < columns_.size(); ++i) {
        const LogColumn& column = columns_[i];
        switch (column.kind) {
        case Kind::ignored:
            break;
        case Kind::time:
            read_time(cells[i], column);
            break;
        case Kind::body:
            log_.temperatures.push_back({temperature(cells[i], column)});
            break;
        case Kind::ambient: {
            const double air = temperature(cells[i], column);
            if (!std::isnan(air)) last_air_ = air;
            log_.ambient.push_back({last_air_});
            break;
        }
        case Kind::on: {
            const double part = share(cells[i], column);
            for (const std::uint32_t source : names_.switches[column.index].sources) on[source] *= part;
            break;
        }
        }
    }
    for (std::size_t source = 0; source < on.size(); ++source) log_.on[source].push_back(on[source]);
}

bool LogBuilder::all_off(std::size_t row) const {
    return std::ranges::all_of(log_.on, [row](const std::vector<double>& on) { return on[row] == 0.0; });
}

void LogBuilder::check_gaps() {
    std::vector<double> intervals;
    for (std::size_t row = 0; row + 1 < log_.times.size(); ++row)
        intervals.push_back(log_.times[row + 1].si - log_.times[row].si);
    if (intervals.empty()) return;
    std::vector<double> sorted = intervals;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    for (std::size_t row = 0; row < intervals.size(); ++row) {
        if (intervals[row] <= gap * *middle || (all_off(row) && all_off(row + 1))) continue;
        error(
            ErrorKind::out_of_range, time_cells_[row + 1],
            fmt::format("{:.6g} s have passed since line {}, where rows are usually {:.6g} s apart; nobody knows what "
                        "the heater did meanwhile",
                        intervals[row], time_cells_[row].line, *middle),
            "keep the longer piece of the log, or one in which all heaters are off (0) on both sides of the gap");
    }
}

HeatLog LogBuilder::read() {
    std::vector<Cell> cells;
    if (!reader_.next(cells)) return {};
    const Cell head = cells.front();
    columns_ = read_header(reader_, cells, names_, errors_);
    if (columns_.empty()) return {};
    log_.on.resize(names_.sources.size());
    for (const LogColumn& column : columns_)
        if (column.kind == Kind::body) log_.bodies.push_back(column.index);
    std::size_t rows = 0;
    while (errors_.size() < most_errors && reader_.next(cells)) {
        ++rows;
        if (right_size(cells)) read_row(cells);
    }
    if (!log_.ambient.empty() && std::isnan(log_.ambient.back().si))
        error(ErrorKind::missing_key, head, "the room's temperature is empty in every row",
              "state it at least in the first row");
    const auto known = std::ranges::find_if(log_.ambient, [](Temperature air) { return !std::isnan(air.si); });
    if (known != log_.ambient.end()) std::fill(log_.ambient.begin(), known, *known);
    if (rows < names_.least_rows)
        error(ErrorKind::out_of_range, head,
              fmt::format("the log has {} row{}, but what is to be found needs at least {}", rows, rows == 1 ? "" : "s",
                          names_.least_rows),
              "record for longer or more often");
    if (errors_.empty()) check_gaps();
    return std::move(log_);
}

} // namespace

Loaded<HeatLog> read_heat_log(const SourceFile& file, const LogNames& names) {
    Loaded<HeatLog> result;
    const Place whole{file.id, 0, 0};
    if (file.text.size() > largest_log) {
        result.errors.push_back({ErrorKind::too_large, whole,
                                 fmt::format("the log is larger than {} MiB", largest_log >> 20U),
                                 "keep every tenth row; seconds are finer than any heater build needs"});
        return result;
    }
    if (const auto bad = first_non_text(file.text)) {
        result.errors.push_back({ErrorKind::not_text, place_at(file, *bad), "the log is not UTF-8 text from here on",
                                 "save it as CSV in UTF-8"});
        return result;
    }
    HeatLog log = LogBuilder(file, names, result.errors).read();
    if (log.times.empty() && result.errors.empty())
        result.errors.push_back({ErrorKind::missing_key, whole, "the log is empty",
                                 "begin with a row such as time_s, plate_C, ambient_C, heater_on"});
    if (result.errors.empty()) result.value = std::move(log);
    return result;
}

} // namespace trivet
