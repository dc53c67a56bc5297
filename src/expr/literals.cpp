#include "expr/literals.h"

#include "source/utf8.h"
#include "units/parse.h"

#include <fmt/format.h>

#include <array>

namespace trivet {
namespace {

constexpr std::array<Dimension, 27> unit_dimensions{dim::number,
                                                    dim::voltage,
                                                    dim::current,
                                                    dim::resistance,
                                                    dim::power,
                                                    dim::temperature_difference,
                                                    dim::time,
                                                    dim::length,
                                                    dim::area,
                                                    dim::mass,
                                                    dim::frequency,
                                                    dim::energy,
                                                    dim::conductance,
                                                    dim::resistance_per_length,
                                                    dim::charge,
                                                    dim::capacitance,
                                                    dim::inductance,
                                                    dim::joule_integral,
                                                    dim::withstand_density,
                                                    dim::thermal_resistance,
                                                    dim::thermal_conductance,
                                                    dim::heat_capacity,
                                                    dim::per_kelvin,
                                                    dim::conductivity,
                                                    dim::specific_heat,
                                                    dim::specific_energy,
                                                    dim::density};

void set_quantity(ExprNode& node, AnyQuantity quantity) {
    node.kind = ExprKind::quantity;
    node.quantity = quantity;
    node.type = quantity.dimension;
}

} // namespace

std::optional<ExprProblem> read_literal(ExprNode& node, Dimension due) {
    auto read = parse_quantity(node.text, due);
    if (!read) {
        constexpr std::size_t opening_quote = 1;
        return ExprProblem{node.offset + opening_quote + read.error().offset, std::move(read.error().message),
                           std::move(read.error().hint)};
    }
    set_quantity(node, *read);
    return {};
}

std::optional<ExprProblem> read_literal(ExprNode& node) {
    if (reads_as_scale_temperature(node)) return read_literal(node, dim::temperature);
    for (const Dimension dimension : unit_dimensions) {
        if (const auto read = parse_quantity(node.text, dimension)) {
            set_quantity(node, *read);
            return {};
        }
    }
    return ExprProblem{node.offset, fmt::format("'{}' is not a number with a unit that fits here", shown(node.text)),
                       "write one value and its unit, for example \"24 V\""};
}

bool reads_as_scale_temperature(const ExprNode& node) {
    if (!parse_quantity(node.text, dim::temperature)) return false;
    const std::size_t last = node.text.find_last_not_of(' ');
    return last != std::string::npos && node.text[last] != 'K';
}

} // namespace trivet
