#include "catalog/library.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

constexpr std::string_view parts = R"(
[plate]
title = "Heater plate"
basis = "typical"
source = "common practice"
terminals = ["A", "B", "S1", "S2"]
[[plate.element]]
kind = "heater"
between = ["A", "B"]
resistance = "8..11 ohm"
power = "60 W"
[[plate.element]]
kind = "thermistor"
between = ["S1", "S2"]
curve = "ntc"
resistance = "100 kohm"
beta = "3950 K"

[buck]
title = "Converter"
basis = "typical"
source = "common practice"
terminals = ["IN", "OUT", "GND"]
[[buck.element]]
kind = "converter"
input = ["IN", "GND"]
output_terminals = ["OUT", "GND"]
topology = "step-down"
adjustable = true
output_range = "1.25..20 V"
efficiency = "85 %"

[relay]
title = "Relay"
basis = "typical"
source = "common practice"
terminals = ["1", "2", "3", "A1", "A2"]
[[relay.element]]
kind = "contact"
name = "make"
between = ["1", "2"]
rests = "open"
driven_by = "coil"
rated = { resistive = "10 A at 30 V" }
[[relay.element]]
kind = "contact"
name = "break"
between = ["1", "3"]
rests = "closed"
driven_by = "coil"
rated = { resistive = "10 A at 30 V" }
[[relay.element]]
kind = "coil"
between = ["A1", "A2"]
resistance = "70 ohm"
)";

struct Overridden {
    std::shared_ptr<const Part> part;
    Errors errors;
};

Overridden restate(const Library& library, std::string_view name, std::string_view keys) {
    Sources sources;
    const std::string text = fmt::format("[x]\n{}\n", keys);
    const Loaded<Document> document = parse_document(sources.add_view("design.toml", text));
    Overridden result;
    TableReader root(*document.value, document.value->root(), result.errors);
    auto use = root.table("x");
    result.part = library.catalog.with_overrides(name, *use);
    use->finish();
    tidy(result.errors);
    return result;
}

class Overrides : public testing::Test {
protected:
    Library library{std::string(parts)};
};

TEST_F(Overrides, NothingStatedSharesTheLibrarysPart) {
    const Overridden plain = restate(library, "plate", "");
    EXPECT_EQ(plain.part, library.catalog.share("plate"));
}

TEST_F(Overrides, AValueReplacesTheLibrarysAndSaysHowItIsKnown) {
    const Overridden result = restate(library, "plate", "power = \"58 W\"\nbasis = \"measured\"");
    ASSERT_TRUE(result.errors.empty()) << to_text(result.errors);
    const auto& heater = element_of<HeaterElement>(*result.part, "heater");
    EXPECT_DOUBLE_EQ(heater.power->range.lo.si, 58.0);
    EXPECT_EQ(heater.power->basis, Basis::measured);
    EXPECT_EQ(heater.power->place.line, 2U);
    EXPECT_EQ(heater.resistance->basis, Basis::typical);
    EXPECT_DOUBLE_EQ(element_of<HeaterElement>(*library.catalog.share("plate"), "heater").power->range.lo.si, 60.0);
}

TEST_F(Overrides, AValueOfOneElementOnly) {
    const Overridden result = restate(library, "plate", "basis = \"datasheet\"\nheater.resistance = \"9.5 ohm\"");
    ASSERT_TRUE(result.errors.empty()) << to_text(result.errors);
    EXPECT_DOUBLE_EQ(element_of<HeaterElement>(*result.part, "heater").resistance->range.lo.si, 9.5);
    EXPECT_EQ(element_of<HeaterElement>(*result.part, "heater").resistance->basis, Basis::datasheet);
    EXPECT_DOUBLE_EQ(element_of<ThermistorElement>(*result.part, "thermistor").resistance->range.lo.si, 1e5);
}

TEST_F(Overrides, AValueOfAKindGoesToAllElementsOfThatKind) {
    const Overridden result = restate(
        library, "relay", "basis = \"datasheet\"\nrated = { resistive = [\"5 A at 24 V\"] }\nendurance = 50000");
    ASSERT_TRUE(result.errors.empty()) << to_text(result.errors);
    for (const std::string_view name : {"make", "break"}) {
        const auto& contact = element_of<ContactElement>(*result.part, name);
        ASSERT_EQ(contact.rated.size(), 1U);
        EXPECT_DOUBLE_EQ(contact.rated[0].rating.current.si, 5.0);
        EXPECT_DOUBLE_EQ(contact.endurance->range.hi.si, 50000.0);
    }
}

TEST_F(Overrides, ASettingNeedsNoBasis) {
    const Overridden result = restate(library, "buck", "output = \"5 V\"");
    ASSERT_TRUE(result.errors.empty()) << to_text(result.errors);
    EXPECT_DOUBLE_EQ(element_of<ConverterElement>(*result.part, "converter").output_voltage->range.lo.si, 5.0);
    EXPECT_TRUE(restate(library, "buck", "converter = { output = \"5 V\" }").errors.empty());
}

TEST_F(Overrides, ATerminalCanBeRestated) {
    const Overridden result =
        restate(library, "plate", "basis = \"measured\"\nterminal.A = { kind = \"screw\", area = \"1 mm2\" }");
    ASSERT_TRUE(result.errors.empty()) << to_text(result.errors);
    EXPECT_EQ(result.part->terminals[0].kind, TerminalKind::screw);
}

TEST_F(Overrides, MistakesAreReportedWithAWayOut) {
    struct Row {
        std::string_view part;
        std::string_view keys;
        ErrorKind kind;
        std::string_view fragment;
    };
    const std::array rows{
        Row{"plate", "resistance = \"9 ohm\"\nbasis = \"measured\"", ErrorKind::ambiguous,
            "the heater or to the thermistor"},
        Row{"plate", "power = \"58 W\"", ErrorKind::missing_key,
            "say how you know: basis = \"measured\" or \"datasheet\""},
        Row{"plate", "heater = { power = \"58 W\" }", ErrorKind::missing_key, "say how you know"},
        Row{"plate", "terminal.A = { kind = \"screw\" }", ErrorKind::missing_key, "say how you know"},
        Row{"plate", "powr = \"58 W\"", ErrorKind::unknown_key, "did you mean 'power'?"},
        Row{"plate", "between = [\"A\", \"B\"]", ErrorKind::unknown_key, "'between' is not known"},
        Row{"plate", "basis = \"measured\"\nheatr = { power = \"58 W\" }", ErrorKind::unknown_name,
            "did you mean 'heater'?"},
        Row{"plate", "basis = \"measured\"\nheater = { powr = \"58 W\" }", ErrorKind::unknown_key,
            "did you mean 'power'?"},
        Row{"plate", "basis = \"measured\"\nterminal.C = { kind = \"screw\" }", ErrorKind::unknown_name,
            "no terminal 'C'"},
        Row{"plate", "heater = \"9 ohm\"", ErrorKind::wrong_type, "has several values"},
        Row{"plate", "basis = \"guessed\"\npower = \"58 W\"", ErrorKind::unknown_name, "guessed"},
        Row{"plate", "basis = \"measured\"\npower = \"-58 W\"", ErrorKind::out_of_range, "more than zero"},
        Row{"buck", "output = \"24 V\"", ErrorKind::out_of_range, "can only be set within"},
    };
    for (const Row& row : rows) {
        const Overridden result = restate(library, row.part, row.keys);
        ASSERT_EQ(result.errors.size(), 1U) << row.keys << "\n" << to_text(result.errors);
        EXPECT_EQ(result.errors[0].kind, row.kind) << row.keys;
        EXPECT_NE(to_text(result.errors).find(row.fragment), std::string::npos) << to_text(result.errors);
    }
}

} // namespace
} // namespace trivet
