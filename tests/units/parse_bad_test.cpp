#include "units/parse.h"

#include <gtest/gtest.h>

#include <span>
#include <string>

namespace trivet {
namespace {

struct Bad {
    const char* text;
    Dimension expected;
    std::size_t offset;
    const char* message; // a part of it
    const char* hint;    // a part of it
};

const Bad wrong_numbers[] = {
    {"", dim::voltage, 0, "a number is missing here; a voltage was expected, such as \"24 V\"", ""},
    {"   ", dim::voltage, 3, "a number is missing", ""},
    {"V", dim::voltage, 0, "'V' does not start with a number", ""},
    {"9,3 ohm", dim::resistance, 1, "'9,3' is written with a comma", "write 9.3, not 9,3"},
    {"-9,3 ohm", dim::resistance, 2, "'9,3' is written with a comma", "write 9.3, not 9,3"},
    {"1,000 V", dim::voltage, 1, "with a comma", "write 1000 if the comma groups thousands, 1.000 if"},
    {".5 V", dim::voltage, 0, "does not start with a digit", "write the zero before the point"},
    {"nan V", dim::voltage, 0, "not a finite number", "leave the key out"},
    {"-nan V", dim::voltage, 0, "does not start with a number", ""},
    {"inf V", dim::voltage, 0, "not a finite number", ""},
    {"Infinity", dim::number, 0, "not a finite number", ""},
    {"1e300 V", dim::voltage, 0, "too large", ""},
    {"1e999 V", dim::voltage, 0, "too large or too small", ""},
    {"1e-999 V", dim::voltage, 0, "too large or too small", ""},
    {"1.1e30 V", dim::voltage, 0, "too large", ""},
    {"1e28 kV", dim::voltage, 0, "too large", ""},
    {"-1e31 V", dim::voltage, 0, "too large", ""},
    {"0x10 V", dim::voltage, 1, "'x' is not a unit", ""},
    {"1 000 V", dim::voltage, 2, "'000 V' does not belong here", "without gaps"},
    {"<5 V", dim::voltage, 0, "not a value", "as a range"},
    {"5e V", dim::voltage, 1, "'e' is not a unit", ""},
};

const Bad wrong_units[] = {
    {"24", dim::voltage, 0, "24 has no unit; a voltage was expected, such as \"24 V\"", ""},
    {"60 W", dim::voltage, 0, "60 W is a power; a voltage was expected, such as \"24 V\"", ""},
    {"5 %", dim::voltage, 0, "5 % is a plain number; a voltage was expected", ""},
    {"5 V", dim::number, 0, "5 V is a voltage; a plain number was expected, such as \"0.8\"", ""},
    {"75 C", dim::temperature, 0, "75 C is an electric charge", "C alone is the coulomb; write °C, degC or K"},
    {"75 F", dim::temperature, 0, "75 F is a capacitance", "F alone is the farad; write °F or degF"},
    {"2 C", dim::temperature_difference, 0, "an electric charge", "coulomb"},
    {"3 C/W", dim::thermal_resistance, 0, "a thermal resistance was expected", "coulomb"},
    {"75 °", dim::temperature, 3, "'°' is not a unit", "write °C or degC"},
    {"24 volts", dim::voltage, 3, "'volts' is not a unit", "write V"},
    {"24 v", dim::voltage, 3, "'v' is not a unit", "write V"},
    {"2 amps", dim::current, 2, "'amps' is not a unit", "write A"},
    {"10 sec", dim::time, 3, "'sec' is not a unit", "write s"},
    {"10 R", dim::resistance, 3, "'R' is not a unit", "write ohm"},
    {"5 Vx", dim::voltage, 2, "'Vx' is not a unit", "a voltage is written with mV, V or kV, such as \"24 V\""},
    {"24 V DC", dim::voltage, 5, "'DC' is not a unit", "leave the word out"},
    {"5 V to 6 V", dim::voltage, 4, "'to' is not a unit", "two dots"},
    {"0.2 W/mK", dim::conductivity, 6, "'mK' is not a unit", "W/(m K)"},
    {"900 J/kg K", dim::specific_heat, 9, "not clear whether", "J/(kg K)"},
    {"900 J/(kg K", dim::specific_heat, 6, "not closed", ")"},
    {"900 J/", dim::specific_heat, 6, "a unit is missing here", "J/(kg K)"},
    {"5 m^", dim::area, 3, "a number is missing", "mm^2"},
    {"5 m0", dim::area, 3, "exponent", ""},
    {"5 m22", dim::area, 3, "exponent", ""},
    {"5 m^-12", dim::area, 3, "exponent", ""},
    {"5 m m m m m m m m m", dim::area, 18, "too many factors", ""},
    {"5 ((((m))))", dim::length, 5, "too many brackets", ""},
    {"5 m\u00b2\u00b2", dim::area, 5, "does not belong here", ""},
    {"0.75 mm", dim::area, 0, "0.75 mm is a length; an area was expected, such as \"0.75 mm²\"", ""},
    {"18 awg", dim::area, 3, "'awg' is not a unit", "AWG in capitals"},
    {"18.5 AWG", dim::area, 0, "18.5 AWG is not a wire size", "4/0 (thick) to 56 (thin)"},
    {"57 AWG", dim::area, 0, "not a wire size", ""},
    {"-1 AWG", dim::area, 0, "not a wire size", ""},
    {"00000 AWG", dim::area, 0, "not a wire size", ""},
    {"5/0 AWG", dim::area, 2, "a unit is missing", ""},
    {"2/0 V", dim::voltage, 0, "2/0 V is not a number", "only wire sizes"},
    {"1 AWG m", dim::length* dim::area, 2, "cannot be combined", ""},
    {"AWG", dim::area, 3, "a number is missing", ""},
    {"18 AWG", dim::length, 0, "18 AWG is an area; a length was expected", ""},
};

const Bad wrong_ranges[] = {
    {"9.7..9.3 ohm", dim::resistance, 0, "the range 9.7..9.3 ohm runs backwards", "smaller value first"},
    {"16..18 AWG", dim::area, 0, "runs backwards", "a larger AWG number is a thinner wire"},
    {"9.3...9.7 ohm", dim::resistance, 3, "does not belong here", "two dots"},
    {"9.3-9.7 ohm", dim::resistance, 3, "'-9.7 ohm' does not belong here", "two dots"},
    {"9.3 ohm-9.7 ohm", dim::resistance, 7, "does not belong here", "two dots"},
    {"9.3 ohm \u2013 9.7 ohm", dim::resistance, 8, "does not belong here", "two dots"},
    {"9.3 ohm..9.7", dim::resistance, 9, "the upper end 9.7 has no unit", "at both ends"},
    {"9.3..9.7", dim::resistance, 5, "9.7 has no unit", ""},
    {"9.3.. ohm", dim::resistance, 6, "does not start with a number", ""},
    {"..9.7 ohm", dim::resistance, 0, "does not start with a digit", ""},
    {"1..2..3 V", dim::voltage, 4, "does not belong here", ""},
    {"5 V..6 A", dim::voltage, 5, "6 A is a current", ""},
    {"5 V \u00b1-2 %", dim::voltage, 6, "cannot be negative", ""},
    {"5 V \u00b10.1", dim::voltage, 6, "the tolerance 0.1 has no unit", "5 V ±2 %"},
    {"5 V \u00b10.1 A", dim::voltage, 6, "0.1 A is a current", ""},
    {"5 V \u00b1", dim::voltage, 6, "a number is missing", ""},
    {"5 V \u00b11e29 kV", dim::voltage, 6, "too large", ""},
    {"5 \u00b10.1 V", dim::voltage, 0, "5 has no unit", ""},
    {"75 \u00b0C \u00b12 %", dim::temperature, 9, "not clear what 2 % refers to", "in kelvin"},
    {"75 \u00b0C \u00b13", dim::temperature, 9, "has no unit", "in kelvin"},
    {"80 % \u00b15 %", dim::number, 7, "not clear what 5 % refers to", "75..85 %"},
    {"1 mm2 \u00b11 AWG", dim::area, 8, "", ""},
    {"110 \u00b0C +0", dim::temperature, 8, "'+0' does not belong here", "+0/-10 K"},
    {"110 \u00b0C +0/+10 K", dim::temperature, 11, "opposite sign", "+0/-10 K"},
    {"110 \u00b0C +0/-10", dim::temperature, 9, "the tolerance 0 has no unit", ""},
    {"-300 \u00b0C", dim::temperature, 0, "below absolute zero", ""},
    {"5 K \u00b110 K", dim::temperature, 0, "below absolute zero", ""},
    {"5 V 6 V", dim::voltage, 4, "does not belong here", ""},
    {"5 V;", dim::voltage, 3, "';' does not belong here", ""},
};

void expect_refused(std::span<const Bad> rows) {
    for (const Bad& row : rows) {
        const auto range = parse_range(row.text, row.expected);
        ASSERT_FALSE(range.has_value()) << row.text;
        const QuantityProblem& problem = range.error();
        EXPECT_EQ(problem.offset, row.offset) << row.text << ": " << problem.message;
        EXPECT_NE(problem.message.find(row.message), std::string::npos) << row.text << ": " << problem.message;
        EXPECT_NE(problem.hint.find(row.hint), std::string::npos) << row.text << ": " << problem.hint;
        EXPECT_FALSE(problem.message.empty()) << row.text;
        EXPECT_NE(problem.message.back(), '.') << row.text;
    }
}

TEST(ParseBadText, NumbersThatCannotBeUsed) { expect_refused(wrong_numbers); }

TEST(ParseBadText, UnitsThatDoNotFit) { expect_refused(wrong_units); }

TEST(ParseBadText, RangesAndTolerancesThatMakeNoSense) { expect_refused(wrong_ranges); }

TEST(ParseBadText, LongTextIsNotRepeatedWhole) {
    const std::string text = std::string(5000, '1') + " V";
    EXPECT_LT(parse_range(text, dim::voltage).error().message.size(), 200U);
    EXPECT_LT(parse_range("1 " + std::string(5000, 'x'), dim::voltage).error().message.size(), 200U);
    std::string umlauts = "1 V ";
    for (int i = 0; i < 100; ++i) umlauts += "\u00e4";
    const std::string message = parse_range(umlauts, dim::voltage).error().message;
    const std::size_t cut = message.find("...");
    ASSERT_NE(cut, std::string::npos);
    EXPECT_EQ(message.substr(cut - 2, 2), "\u00e4"); // cut between characters, not inside one
}

// No text may crash the reader or be half understood: every truncation and every single-byte change of good texts is
// either read with ordered ends or refused with an offset inside the text.
TEST(ParseBadText, SurvivesDamagedText) {
    for (const std::string& good :
         {std::string("9.3 ohm..9.7 ohm"), std::string("110 \u00b0C +0/-10 K"), std::string("900 J/(kg K)"),
          std::string("2/0 AWG"), std::string("5 V \u00b12 %")}) {
        for (std::size_t i = 0; i <= good.size(); ++i) {
            for (int byte = -1; byte < 256; ++byte) {
                std::string text = good;
                if (byte < 0) {
                    text.resize(i);
                } else if (i < good.size()) {
                    text[i] = static_cast<char>(byte);
                }
                for (const Dimension expected : {dim::resistance, dim::temperature, dim::number}) {
                    const auto range = parse_range(text, expected);
                    if (range) {
                        EXPECT_LE(range->lo, range->hi) << text;
                    } else {
                        EXPECT_LE(range.error().offset, text.size()) << text;
                    }
                }
            }
        }
    }
}

} // namespace
} // namespace trivet
