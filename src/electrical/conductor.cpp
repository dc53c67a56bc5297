#include "electrical/conductor.h"

#include <string_view>

namespace trivet {

namespace {

constexpr double copper_per_kelvin = 0.00393;
constexpr double strand_allowance = 1.02;
constexpr double same_area = 1.0 + 1e-9;

double area_of(const TableRow& row) { return std::get<AnyQuantity>(row.keys.front()).si; }

bool is_of_class(const TableRow& row, std::string_view conductor_class) {
    return row.keys.size() < 2 || std::get<std::string>(row.keys[1]) == conductor_class;
}

// A resistance per length times an area is a resistivity, so the allowance of the thinner row is kept in between.
std::optional<double> scaled(const PublishedTable* table, double area, std::string_view conductor_class) {
    if (table == nullptr) return std::nullopt;
    const TableRow* thinner = nullptr;
    bool has_thicker = false;
    for (const TableRow& row : table->rows) {
        if (!is_of_class(row, conductor_class)) continue;
        const double row_area = area_of(row);
        if (row_area > area * same_area)
            has_thicker = true;
        else if (thinner == nullptr || row_area > area_of(*thinner))
            thinner = &row;
    }
    if (thinner == nullptr) return std::nullopt;
    const bool is_row = area <= area_of(*thinner) * same_area;
    return is_row || !has_thicker ? thinner->value : thinner->value * area_of(*thinner) / area;
}

} // namespace

std::optional<ResistancePerLength> resistance_per_length(const WireElement& wire, const Handbook& handbook) {
    if (!wire.area) return std::nullopt;
    const double area = wire.area->range.lo.si;
    std::string_view conductor_class = wire.conductor_class;
    if (conductor_class.empty()) conductor_class = "class 5";
    if (const auto found = scaled(handbook.find("conductor-resistance"), area, conductor_class))
        return ResistancePerLength{*found};
    if (const auto found = scaled(handbook.find("awg-resistance"), area, conductor_class))
        return ResistancePerLength{*found * (conductor_class == "class 1" ? 1.0 : strand_allowance)};
    return std::nullopt;
}

Resistance at_temperature(Resistance at_20_celsius, Temperature temperature) {
    return at_20_celsius * (1.0 + copper_per_kelvin * (temperature - celsius(20.0)).si);
}

} // namespace trivet
