#include "units/parse.h"
#include "units/problems.h"

#include <fmt/format.h>

namespace trivet {

namespace {

constexpr double largest_direct_voltage = 60.0; // V; above it a rating without AC or DC is usually one for the mains

enum class Kind { unsaid, direct, alternating };

// Takes "DC" or "AC" off the end of a voltage.
Kind take_kind(std::string_view& voltage) {
    while (voltage.ends_with(' ')) voltage.remove_suffix(1);
    const bool direct = voltage.ends_with("DC") || voltage.ends_with("dc");
    const bool alternating = voltage.ends_with("AC") || voltage.ends_with("ac");
    if (direct || alternating) voltage.remove_suffix(2);
    if (direct) return Kind::direct;
    return alternating ? Kind::alternating : Kind::unsaid;
}

} // namespace

tl::expected<CurrentAtVoltage, QuantityProblem> parse_rating(std::string_view text) {
    const std::size_t at = text.find(" at ");
    if (at == std::string_view::npos) {
        return tl::unexpected(
            QuantityProblem{0, fmt::format("'{}' does not say up to which voltage the current holds", shortened(text)),
                            "write \"10 A at 30 V\" or \"10 A at 250 V AC\""});
    }
    auto current = parse_quantity(text.substr(0, at), dim::current);
    if (!current) return tl::unexpected(std::move(current.error()));
    const std::size_t voltage_begin = at + 4;
    std::string_view voltage_text = text.substr(voltage_begin);
    const Kind kind = take_kind(voltage_text);
    auto voltage = parse_quantity(voltage_text, dim::voltage);
    if (!voltage) {
        voltage.error().offset += voltage_begin;
        return tl::unexpected(std::move(voltage.error()));
    }
    if (current->si <= 0.0 || voltage->si <= 0.0) {
        return tl::unexpected(
            QuantityProblem{0, fmt::format("'{}' needs a current and a voltage above zero", shortened(text)), {}});
    }
    if (kind == Kind::unsaid && voltage->si > largest_direct_voltage) {
        return tl::unexpected(QuantityProblem{
            voltage_begin, fmt::format("it is not clear whether '{}' is meant for AC or DC", shortened(text)),
            "add AC or DC; above 60 V most printed ratings are for AC"});
    }
    return CurrentAtVoltage{{current->si}, {voltage->si}, kind == Kind::alternating};
}

} // namespace trivet
