#include "units/parse.h"

#include "units/parse_unit.h"
#include "units/problems.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace trivet {

namespace {

constexpr double largest_si = 1e30;

struct Reading {
    double number = 0.0;
    int aught = 0;        // for wire sizes: 2 in "2/0" and "00"; 0 otherwise
    bool slashed = false; // written as "2/0", which is nothing but a wire size
    UnitReading unit;
    std::size_t begin = 0;
    std::size_t end = 0;
};

class QuantityParser {
public:
    QuantityParser(std::string_view text, Dimension expected)
        : scanner_(text)
        , expected_(expected) {}

    bool read(AnyRange& range) {
        scanner_.skip_spaces();
        Reading first;
        if (!read_value(first)) return false;
        scanner_.skip_spaces();
        if (scanner_.sees("...")) return refuse(trailing_text(scanner_.text(), scanner_.position()));
        if (scanner_.sees("..")) {
            is_single = false;
            if (!read_upper_end(first, range)) return false;
        } else {
            double si = 0.0;
            if (!to_si(first, si)) return false;
            double below = 0.0;
            double above = 0.0;
            if (!read_tolerance(first, si, below, above)) return false;
            range = {si - below, si + above, expected_};
        }
        scanner_.skip_spaces();
        if (!scanner_.at_end()) return refuse(trailing_text(scanner_.text(), scanner_.position()));
        if (expected_.point && range.lo < 0.0) {
            return refuse({first.begin, fmt::format("{} reaches below absolute zero", written(first)), {}});
        }
        return true;
    }

    bool is_single = true; // no range and no tolerance was written
    std::optional<QuantityProblem> problem;

private:
    bool refuse(QuantityProblem why) {
        problem = std::move(why);
        return false;
    }

    std::string written(const Reading& reading) const {
        return shortened(scanner_.text().substr(reading.begin, reading.end - reading.begin));
    }

    bool read_value(Reading& value) {
        value.begin = scanner_.position();
        if (scanner_.sees("AWG")) return read_leading_gauge(value);
        if (!read_number(value)) return false;
        value.end = scanner_.position();
        scanner_.skip_spaces();
        if (auto bad = read_unit(scanner_, expected_, value.unit)) return refuse(std::move(*bad));
        if (value.unit.present) value.end = scanner_.position();
        return true;
    }

    // "AWG 18" means "18 AWG".
    bool read_leading_gauge(Reading& value) {
        scanner_.take("AWG");
        value.unit.unit = *find_unit(symbol_key("AWG"));
        value.unit.present = true;
        scanner_.skip_spaces();
        if (!read_number(value)) return false;
        value.end = scanner_.position();
        return true;
    }

    // Finds the end of the number itself: from_chars alone would read "9." out of "9..10" and accept "inf".
    bool read_number(Reading& value) {
        const std::size_t begin = scanner_.position();
        const bool negative = scanner_.take_minus();
        if (!negative) scanner_.take('+');
        const std::size_t digits = scanner_.position();
        if (!is_digit(scanner_.peek())) return refuse(not_a_number(scanner_.text(), begin, expected_));
        skip_digits();
        const std::size_t whole_end = scanner_.position();
        if (scanner_.peek() == ',' && is_digit(scanner_.peek(1))) {
            return refuse(decimal_comma(scanner_.text(), digits, scanner_.position()));
        }
        if (scanner_.peek() == '.' && is_digit(scanner_.peek(1))) {
            scanner_.advance();
            skip_digits();
        }
        const char sign = scanner_.peek(1);
        if ((scanner_.peek() == 'e' || scanner_.peek() == 'E') &&
            (is_digit(sign) || ((sign == '-' || sign == '+') && is_digit(scanner_.peek(2))))) {
            scanner_.advance(2);
            skip_digits();
        }
        const std::string_view number = scanner_.text().substr(digits, scanner_.position() - digits);
        const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value.number);
        if (error != std::errc{} || end != number.data() + number.size()) {
            return refuse({begin, fmt::format("{} is too large or too small for a real value", shortened(number)), {}});
        }
        note_aught(value, scanner_.text().substr(digits, whole_end - digits));
        if (negative) value.number = -value.number;
        return true;
    }

    void skip_digits() {
        while (is_digit(scanner_.peek())) scanner_.advance();
    }

    // Thick wires count backwards: 1/0, 2/0 (or 00), 3/0 (000), 4/0 (0000).
    void note_aught(Reading& value, std::string_view whole) {
        const bool one_to_four = whole.size() == 1 && whole.front() >= '1' && whole.front() <= '4';
        if (one_to_four && scanner_.sees("/0") && !is_digit(scanner_.peek(2))) {
            value.aught = whole.front() - '0';
            value.slashed = true;
            scanner_.advance(2);
        } else if (whole.size() > 1 && whole.find_first_not_of('0') == std::string_view::npos) {
            value.aught = static_cast<int>(std::min<std::size_t>(whole.size(), 9));
        }
    }

    bool to_si(const Reading& value, double& si) {
        const Unit& unit = value.unit.unit;
        if (value.slashed && !unit.gauge) {
            return refuse({value.begin, fmt::format("{} is not a number", written(value)),
                           "only wire sizes are written like this, such as \"2/0 AWG\""});
        }
        if (!value.unit.present) {
            if (expected_ != dim::number) return refuse_unitless(value);
            si = value.number;
        } else if (unit.dimension != expected_ * dim::number) {
            return refuse(
                wrong_dimension(written(value), value.begin, unit.dimension, expected_, value.unit.lone_letter));
        } else if (unit.gauge) {
            return gauge_to_si(value, si);
        } else {
            const double shift = expected_.point ? unit.shift : 0.0;
            si = (value.number + shift) * unit.multiply / unit.divide;
        }
        if (!(std::abs(si) <= largest_si)) {
            return refuse({value.begin, fmt::format("{} is too large for a real value", written(value)), {}});
        }
        return true;
    }

    // "1 000 V" and "9.3-9.7 ohm": what stands in the way of the unit says more than its absence.
    bool refuse_unitless(const Reading& value) {
        Scanner next = scanner_;
        next.skip_spaces();
        const bool tolerance = next.peek() == '+' || next.sees("\u00b1");
        if (!next.at_end() && !tolerance) return refuse(trailing_text(next.text(), next.position()));
        return refuse(missing_unit(written(value), value.begin, expected_));
    }

    bool gauge_to_si(const Reading& value, double& si) {
        const double gauge = value.aught > 0 ? 1.0 - value.aught : value.number;
        if (gauge != std::floor(gauge) || gauge < (value.aught > 0 ? thickest_gauge : 0) || gauge > thinnest_gauge) {
            return refuse({value.begin, fmt::format("{} is not a wire size", written(value)),
                           "AWG sizes are whole numbers from 4/0 (thick) to 56 (thin), such as \"18 AWG\""});
        }
        si = gauge_area(static_cast<int>(gauge));
        return true;
    }

    bool read_upper_end(Reading& first, AnyRange& range) {
        scanner_.advance(2);
        scanner_.skip_spaces();
        Reading second;
        if (!read_value(second)) return false;
        if (!second.unit.present && first.unit.present) {
            return refuse({second.begin, fmt::format("the upper end {} has no unit", written(second)),
                           "write the unit once behind the range, such as \"9.3..9.7 ohm\", or at both ends"});
        }
        if (!first.unit.present) first.unit = second.unit;
        double lo = 0.0;
        double hi = 0.0;
        if (!to_si(second, hi) || !to_si(first, lo)) return false;
        if (lo > hi) {
            return refuse({first.begin, fmt::format("the range {}..{} runs backwards", written(first), written(second)),
                           first.unit.unit.gauge
                               ? "a larger AWG number is a thinner wire: write the larger number first"
                               : "write the smaller value first"});
        }
        range = {lo, hi, expected_};
        return true;
    }

    bool read_tolerance(const Reading& base, double si, double& below, double& above) {
        if (scanner_.take("\u00b1") || scanner_.take("+-") || scanner_.take("+/-")) {
            is_single = false;
            Reading part;
            if (!read_part(part) || !difference(part, base, si, above)) return false;
            below = above;
            return true;
        }
        const bool plus_first = scanner_.peek() == '+' && is_digit(scanner_.peek(1));
        const bool minus_first = scanner_.peek() == '-' && is_digit(scanner_.peek(1));
        if (!plus_first && !minus_first) return true;
        const std::size_t begin = scanner_.position();
        is_single = false;
        scanner_.advance();
        Reading one;
        Reading other;
        if (!read_part(one)) return false;
        scanner_.skip_spaces();
        if (!scanner_.take('/')) return refuse(trailing_text(scanner_.text(), begin));
        scanner_.skip_spaces();
        if (!(plus_first ? scanner_.take_minus() : scanner_.take('+'))) {
            return refuse({scanner_.position(), "the second half of the tolerance needs the opposite sign",
                           "write it as \"+0/-10 K\""});
        }
        if (!read_part(other)) return false;
        if (!one.unit.present) one.unit = other.unit;
        return difference(one, base, si, plus_first ? above : below) &&
               difference(other, base, si, plus_first ? below : above);
    }

    bool read_part(Reading& part) {
        scanner_.skip_spaces();
        if (!read_value(part)) return false;
        if (!std::signbit(part.number)) return true;
        return refuse({part.begin, "a tolerance cannot be negative", "write the amount without a sign"});
    }

    // The tolerance in SI units. A share of a temperature or of a value that is itself in % would have two meanings.
    bool difference(const Reading& part, const Reading& base, double si, double& amount) {
        const Unit& unit = part.unit.unit;
        const Dimension wanted = expected_ * dim::number;
        const bool share = part.unit.present && unit.dimension == dim::number;
        if (share && (expected_.point || (wanted == dim::number && base.unit.present))) {
            return refuse({part.begin, fmt::format("it is not clear what {} refers to here", written(part)),
                           expected_.point ? "write the tolerance in kelvin, such as \"75 °C ±2 K\""
                                           : "write both ends, such as \"75..85 %\""});
        }
        if (!part.unit.present && (wanted != dim::number || base.unit.present)) {
            return refuse({part.begin, fmt::format("the tolerance {} has no unit", written(part)),
                           expected_.point ? "write the tolerance in kelvin, such as \"75 °C ±2 K\""
                                           : "write it with its unit, such as \"5 V ±0.1 V\" or \"5 V ±2 %\""});
        }
        if (!share && (unit.dimension != wanted || unit.gauge)) {
            return refuse(wrong_dimension(written(part), part.begin, unit.dimension, wanted, part.unit.lone_letter));
        }
        amount = part.number * unit.multiply / unit.divide * (share ? std::abs(si) : 1.0);
        if (!(amount <= largest_si)) return refuse({part.begin, "this tolerance is too large for a real value", {}});
        return true;
    }

    Scanner scanner_;
    Dimension expected_;
};

} // namespace

tl::expected<AnyRange, QuantityProblem> parse_range(std::string_view text, Dimension expected) {
    QuantityParser parser(text, expected);
    AnyRange range;
    if (!parser.read(range)) return tl::unexpected(std::move(*parser.problem));
    return range;
}

tl::expected<AnyQuantity, QuantityProblem> parse_quantity(std::string_view text, Dimension expected) {
    QuantityParser parser(text, expected);
    AnyRange range;
    if (!parser.read(range)) return tl::unexpected(std::move(*parser.problem));
    if (!parser.is_single) {
        return tl::unexpected(QuantityProblem{0,
                                              fmt::format("'{}' is a range; one value was expected", shortened(text)),
                                              "write the value that was chosen"});
    }
    return AnyQuantity{range.lo, expected};
}

} // namespace trivet
