#include "units/problems.h"

#include "units/dimension_names.h"
#include "units/format.h"
#include "units/scanner.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trivet {

namespace {

struct Habit {
    std::string_view written;
    std::string_view hint;
};

// What people write instead of a unit symbol, in lower case. Checked before the general advice.
constexpr std::array<Habit, 48> habits{{
    {"volt", "write V"},
    {"volts", "write V"},
    {"v", "write V"},
    {"mv", "write mV"},
    {"amp", "write A"},
    {"amps", "write A"},
    {"ampere", "write A"},
    {"a", "write A"},
    {"ma", "write mA"},
    {"watt", "write W"},
    {"watts", "write W"},
    {"w", "write W"},
    {"kw", "write kW"},
    {"ohms", "write ohm or Ω"},
    {"r", "write ohm or Ω"},
    {"k", "write kohm or kΩ for a resistance, K for kelvin"},
    {"kohms", "write kohm or kΩ"},
    {"sec", "write s"},
    {"secs", "write s"},
    {"second", "write s"},
    {"seconds", "write s"},
    {"minute", "write min"},
    {"minutes", "write min"},
    {"mins", "write min"},
    {"hr", "write h"},
    {"hour", "write h"},
    {"hours", "write h"},
    {"gram", "write g"},
    {"grams", "write g"},
    {"gr", "write g"},
    {"inches", "write in"},
    {"feet", "write ft"},
    {"metre", "write m"},
    {"meter", "write m"},
    {"qmm", "write mm2 or mm²"},
    {"sqmm", "write mm2 or mm²"},
    {"°", "write °C or degC"},
    {"deg", "write °C or degC"},
    {"celsius", "write °C or degC"},
    {"fahrenheit", "write °F or degF"},
    {"kelvin", "write K"},
    {"to", "write a range with two dots, such as \"9.3..9.7 ohm\""},
    {"mk", "use brackets for a product below the stroke, such as \"W/(m K)\""},
    {"kgk", "use brackets for a product below the stroke, such as \"J/(kg K)\""},
    {"dc", "leave the word out here"},
    {"ac", "leave the word out here; Trivet judges direct current only"},
    {"max", "leave the word out"},
    {"awg", "write AWG in capitals, such as \"18 AWG\""},
}};

std::string lower_case(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return lower;
}

std::string units_hint(Dimension expected) {
    const KnownDimension* known = find_dimension(expected);
    if (known == nullptr) return {};
    return fmt::format("{} is written with {}, such as \"{}\"", known->phrase, known->units, known->example);
}

std::string such_as(Dimension expected) {
    const std::string_view example = dimension_example(expected);
    return example.empty() ? std::string{} : fmt::format(", such as \"{}\"", example);
}

} // namespace

std::string shortened(std::string_view text) {
    constexpr std::size_t most = 40;
    if (text.size() <= most) return std::string(text);
    std::size_t end = most;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    return std::string(text.substr(0, end)) + "...";
}

QuantityProblem unknown_unit(std::string_view text, std::size_t begin, std::size_t end, Dimension expected) {
    if (end == begin) {
        return {begin, "a unit is missing here", units_hint(expected)};
    }
    const std::string_view written = text.substr(begin, end - begin);
    const std::string lower = lower_case(written);
    const auto habit = std::ranges::find(habits, std::string_view(lower), &Habit::written);
    return {begin, fmt::format("'{}' is not a unit known here", shortened(written)),
            habit != habits.end() ? std::string(habit->hint) : units_hint(expected)};
}

QuantityProblem wrong_dimension(std::string_view value, std::size_t begin, Dimension found, Dimension expected,
                                char lone_letter) {
    const Dimension unmarked = found * dim::number;
    std::string hint;
    if (lone_letter == 'C' && expected.temperature != 0) hint = "C alone is the coulomb; write °C, degC or K";
    if (lone_letter == 'F' && expected.temperature != 0) hint = "F alone is the farad; write °F or degF";
    return {begin,
            fmt::format("{} is {}; {} was expected{}", shortened(value), dimension_name(unmarked),
                        dimension_name(expected), such_as(expected)),
            hint};
}

QuantityProblem missing_unit(std::string_view value, std::size_t begin, Dimension expected) {
    return {
        begin,
        fmt::format("{} has no unit; {} was expected{}", shortened(value), dimension_name(expected), such_as(expected)),
        {}};
}

QuantityProblem not_a_number(std::string_view text, std::size_t begin, Dimension expected) {
    const std::string_view rest = text.substr(begin);
    if (rest.empty()) {
        return {begin,
                fmt::format("a number is missing here; {} was expected{}", dimension_name(expected), such_as(expected)),
                {}};
    }
    const std::string lower = lower_case(rest.substr(0, 4));
    if (lower.starts_with("nan") || lower.starts_with("inf")) {
        return {begin, fmt::format("'{}' is not a finite number", shortened(rest)),
                "state a value, or leave the key out if it is not known"};
    }
    if (rest.front() == '.' || rest.front() == ',') {
        return {begin, fmt::format("'{}' does not start with a digit", shortened(rest)),
                "write the zero before the point, such as 0.5"};
    }
    if (rest.front() == '<' || rest.front() == '>' || rest.front() == '~') {
        return {begin, fmt::format("'{}' is not a value", shortened(rest)),
                "write both ends as a range, such as \"9.3..9.7 ohm\""};
    }
    return {begin,
            fmt::format("'{}' does not start with a number; {} was expected{}", shortened(rest),
                        dimension_name(expected), such_as(expected)),
            {}};
}

QuantityProblem decimal_comma(std::string_view text, std::size_t begin, std::size_t comma) {
    std::size_t end = comma + 1;
    while (end < text.size() && is_digit(text[end])) ++end;
    const std::string_view written = text.substr(begin, end - begin);
    std::string with_point(written);
    with_point[comma - begin] = '.';
    std::string hint = fmt::format("write {}, not {}", with_point, written);
    if (end - comma - 1 == 3) {
        std::string joined(written);
        joined.erase(comma - begin, 1);
        hint = fmt::format("write {} if the comma groups thousands, {} if it is a decimal comma", joined, with_point);
    }
    return {comma, fmt::format("'{}' is written with a comma", shortened(written)), std::move(hint)};
}

QuantityProblem trailing_text(std::string_view text, std::size_t begin) {
    const std::string_view rest = text.substr(begin);
    std::string hint;
    if (rest.starts_with("...") || rest.starts_with("\u2026") || rest.starts_with("\u2013") || rest.starts_with("-")) {
        hint = "write a range with two dots, such as \"9.3..9.7 ohm\"";
    } else if (is_digit(rest.front())) {
        hint = "write one number without gaps, such as 13200";
    } else if (rest.front() == '+') {
        hint = "write a tolerance as \"5 V ±2 %\", \"5 V +-0.1 V\" or \"110 °C +0/-10 K\"";
    }
    return {begin, fmt::format("'{}' does not belong here", shortened(rest)), std::move(hint)};
}

} // namespace trivet
