#include "catalog/library.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

constexpr std::string_view header = R"([thing]
title = "A thing"
basis = "typical"
source = "common practice"
terminals = ["A", "B", "IN", "GND"]
)";

// One element of the part "thing" with the keys given; errors of its text, or nothing.
std::string errors_of_element(std::string_view keys) {
    const Library library(fmt::format("{}[[thing.element]]\n{}\n", header, keys));
    return to_text(library.errors) + to_text(library.catalog.find("thing")->errors);
}

TEST(ReadPart, TakesTheModuleOfTheFormatDescription) {
    const Library library(R"(
[relay-module-5v-10a]
title = "Relay module, 5 V coil, change-over contact, logic input"
basis = "typical"
source = "common practice"
terminals = ["VCC", "GND", "IN", "COM", "NO", "NC"]
[relay-module-5v-10a.terminal.COM]
kind = "screw"
area = "0.3..2.5 mm2"
rated_current = "10 A"
[[relay-module-5v-10a.element]]
kind = "contact"
between = ["COM", "NO"]
rests = "open"
driven_by = "IN"
rated = { resistive = ["10 A at 30 V", "10 A at 250 V AC"], inductive = ["3 A at 30 V"] }
resistance = "0..100 mohm"
endurance = { electrical = 100000, mechanical = 10000000 }
[[relay-module-5v-10a.element]]
kind = "contact"
between = ["COM", "NC"]
rests = "closed"
driven_by = "IN"
endurance = 100000
[[relay-module-5v-10a.element]]
kind = "input"
terminal = "IN"
reference = "GND"
active = "low"
when_open = "off"
[[relay-module-5v-10a.element]]
kind = "load"
category = "electronics"
between = ["VCC", "GND"]
current = "70..90 mA"
voltage = "4.5..5.5 V"
)");
    ASSERT_TRUE(library.errors.empty()) << to_text(library.errors);
    const Loaded<Part>& loaded = *library.catalog.find("relay-module-5v-10a");
    ASSERT_TRUE(loaded) << to_text(loaded.errors);
    const Part& part = *loaded.value;
    EXPECT_EQ(part.terminal("NC"), 5);
    EXPECT_EQ(part.terminal("nc"), -1);
    EXPECT_EQ(part.place.line, 2U);
    EXPECT_EQ(part.terminals[3].kind, TerminalKind::screw);
    EXPECT_DOUBLE_EQ(part.terminals[3].area->range.hi.si, 2.5e-6);
    ASSERT_EQ(part.elements.size(), 4U);
    EXPECT_EQ(part.elements[1].name, "contact-2");
    EXPECT_EQ(part.elements[0].place.line, 11U);

    const auto& contact = element_of<ContactElement>(part, "contact");
    ASSERT_EQ(contact.rated.size(), 3U);
    EXPECT_EQ(contact.rated[0].category, LoadCategory::resistive);
    EXPECT_TRUE(contact.rated[1].rating.alternating);
    EXPECT_EQ(contact.rated[2].category, LoadCategory::coil);
    EXPECT_DOUBLE_EQ(contact.rated[2].rating.current.si, 3.0);
    EXPECT_DOUBLE_EQ(contact.endurance->range.lo.si, 1e5);
    EXPECT_FALSE(contact.rests_closed);
    EXPECT_TRUE(element_of<ContactElement>(part, "contact-2").rests_closed);
    EXPECT_FALSE(element_of<InputElement>(part, "input").active_high);
    const auto& load = element_of<LoadElement>(part, "load");
    EXPECT_DOUBLE_EQ(load.current->range.lo.si, 0.07);
    EXPECT_EQ(load.current->basis, Basis::typical);
    EXPECT_EQ(load.current->place.line, 35U);
    EXPECT_EQ(load.behaviour, LoadBehaviour::constant_current);
}

struct GoodElement {
    std::string_view kind;
    std::string_view keys;
};

TEST(ReadPart, EveryKindOfElementReadsItsKeys) {
    const std::array<GoodElement, element_kind_names.size()> rows{{
        {"source", R"(between = ["A", "B"]
voltage = "23.5..24.5 V"
rated_current = "5 A"
limit_current = "5.5..7 A"
limit_mode = "constant current"
internal_resistance = "0..20 mohm"
full_load_up_to = "50 °C"
derating = "2.5 %/K"
isolated = true
battery = false)"},
        {"fuse", R"(between = ["A", "B"]
family = "blade"
rated_current = "4 A"
rated_voltage = "32 V"
breaking_capacity = "1000 A"
resistance = "15..25 mohm")"},
        {"cutoff", R"(between = ["A", "B"]
reset = "one-shot"
trip = "100..110 °C"
holding_temperature = "80 °C"
response_time = "10..30 s"
rated = { resistive = ["10 A at 250 V AC"] }
resistance = "0..10 mohm"
endurance = 1)"},
        {"contact", R"(between = ["A", "B"]
rests = "closed"
operated_by = "hand"
rated = { lamp = "2 A at 24 V", motor = ["3 A at 24 V"] }
resistance = "10 mohm"
endurance = "10000")"},
        {"transistor", R"(between = ["A", "B"]
driven_by = "IN"
reference = "B"
on_resistance = "10..40 mohm"
drive_needed = "4.5 V"
threshold = "1..2.5 V"
drive_limit = "-20..20 V"
rated_current = "10 A"
rated_voltage = "30 V"
thermal_resistance = "60 K/W"
junction_limit = "150 °C"
on_voltage = "1.2 V"
body_diode = false
turns_off_on_dc = false
[[thing.element]]
kind = "input"
terminal = "IN"
reference = "GND"
active = "high")"},
        {"input", R"(terminal = "IN"
reference = "GND"
active = "high"
on_voltage = "2.5 V"
off_voltage = "0.8 V"
current = "2..5 mA"
pull = "10 kohm"
when_open = "on")"},
        {"coil", R"(between = ["A", "B"]
resistance = "60..80 ohm"
current = "70 mA"
voltage = "3.75..6 V"
suppressed = true)"},
        {"converter", R"(input = ["A", "GND"]
output_terminals = ["B", "GND"]
topology = "step-down"
input_voltage = "4.5..28 V"
input_limit = "30 V"
output = "5 V"
adjustable = true
output_range = "1.25..26 V"
efficiency = "80..92 %"
quiescent_current = "5 mA"
dropout = "1.5 V"
rated_output_current = "2 A"
limit_current = "3 A"
dissipation_limit = "3 W")"},
        {"heater", R"(between = ["A", "B"]
resistance = "9.3..9.7 ohm"
temperature_coefficient = "-0.1..0.4 %/K"
working_temperature = "150 °C"
voltage = "24 V"
power = "60 W"
cold_factor = 1.1)"},
        {"load", R"(between = ["A", "B"]
category = "motor"
behaviour = "constant power"
current = "0.1 A"
power = "2.4 W"
resistance = "240 ohm"
voltage = "20..28 V"
voltage_limit = "-0.3..30 V"
start_factor = "2..4"
suppressed = true
either_way = true)"},
        {"conductor", R"(between = ["A", "B"]
resistance = "0..5 mohm"
rated_current = "5 A")"},
        {"diode", R"(between = ["A", "B"]
forward_voltage = "0.6..1.1 V"
rated_current = "1 A"
rated_voltage = "50 V")"},
        {"resistor", R"(between = ["A", "B"]
resistance = "10 kohm +-1 %"
rated_power = "0.25 W")"},
        {"thermistor", R"(between = ["A", "B"]
curve = "ntc"
resistance = "100 kohm +-1 %"
reference = "25 °C"
beta = "3950 K"
range = "-40..300 °C"
response_time = "5..15 s")"},
        {"pin", R"(terminal = "IN"
ground = "GND"
supply = "A"
modes = ["digital-out", "pwm"]
output_current = "12 mA"
output_high = "2.6..3.3 V"
output_low = "0..0.4 V"
input_limit = "-0.3..3.6 V"
in_reset = "pulled up"
reset_pull = "45 kohm")"},
        {"signal", R"(terminal = "IN"
ground = "GND"
levels = "open-drain"
high = "3.3 V"
response_time = "0.1..1 s")"},
        {"wire", R"(area = "18 AWG"
conductor_class = "class 5"
insulation = "silicone"
insulation_class = "180 °C")"},
        {"capacitor", R"(between = ["A", "B"]
capacitance = "1000 uF +-20 %"
rated_voltage = "35 V")"},
        {"material", R"x(limit = "60 °C"
density = "900..970 kg/m3"
specific_heat = "2.1..2.9 kJ/(kg K)"
conductivity = "0.2..0.3 W/(m K)"
emissivity = 0.9
melting = "62..65 °C"
melting_energy = "175..178 kJ/kg"
touch = "plastic"
liquid = true)x"},
    }};
    for (std::size_t i = 0; i < rows.size(); ++i) {
        EXPECT_EQ(rows.at(i).kind, element_kind_names.at(i));
        const std::string errors =
            errors_of_element(fmt::format("kind = \"{}\"\n{}", rows.at(i).kind, rows.at(i).keys));
        EXPECT_EQ(errors, "") << rows.at(i).kind;
    }
}

TEST(ReadPart, WhatHoldsForThePartAsAWholeStandsInItsHead) {
    const Library library("[thing]\ntitle = \"A thing\"\nbasis = \"typical\"\nsource = \"common practice\"\n"
                          "temperature_limit = \"70 °C\"\nterminals = [\"A\", \"B\"]\n[[thing.element]]\n"
                          "kind = \"cutoff\"\nbetween = [\"A\", \"B\"]\nreset = \"manual\"\ntrip = \"85..95 °C\"\n"
                          "reset_temperature = \"60..70 °C\"\n");
    ASSERT_TRUE(library.catalog.find("thing")->value) << to_text(library.catalog.find("thing")->errors);
    const Part& part = *library.catalog.find("thing")->value;
    EXPECT_DOUBLE_EQ(in_celsius(part.temperature_limit->range.hi), 70.0);
    EXPECT_EQ(part.temperature_limit->basis, Basis::typical);
    EXPECT_DOUBLE_EQ(in_celsius(element_of<CutoffElement>(part, "cutoff").reset_temperature->range.lo), 60.0);
}

TEST(ReadPart, APartOfAStandardMayBeLessSureOfWhereItSits) {
    const auto read = [](std::string_view typical) {
        return Library(fmt::format("[thing]\ntitle = \"A thing\"\nbasis = \"standard\"\nsource = \"ISO 8820-3\"\n"
                                   "temperature_limit = \"85..105 °C\"\ntypical = [\"{}\"]\nterminals = [\"A\"]\n",
                                   typical));
    };
    const Library sound = read("temperature_limit");
    ASSERT_TRUE(sound.catalog.find("thing")->value) << to_text(sound.catalog.find("thing")->errors);
    EXPECT_EQ(sound.catalog.find("thing")->value->temperature_limit->basis, Basis::typical);
    const Library wrong = read("limit");
    EXPECT_NE(to_text(wrong.catalog.find("thing")->errors).find("not stated here"), std::string::npos);
}

TEST(ReadPart, AValueMayBeLessCertainThanItsElement) {
    const Library library{R"([fuse]
title = "Fuse"
basis = "standard"
source = "IEC 60127"
terminals = ["in", "out"]
[[fuse.element]]
kind = "fuse"
between = ["in", "out"]
family = "quick"
rated_current = "2 A"
resistance = "50..80 mohm"
typical = ["resistance"]
)"};
    const Loaded<Part>& loaded = *library.catalog.find("fuse");
    ASSERT_TRUE(loaded) << to_text(loaded.errors);
    const auto& fuse = element_of<FuseElement>(*loaded.value, "fuse");
    EXPECT_EQ(fuse.rated_current->basis, Basis::standard);
    EXPECT_EQ(fuse.resistance->basis, Basis::typical);
}

struct BadElement {
    std::string_view keys;
    std::string_view fragment;
};

TEST(ReadPart, RefusesWhatCannotBe) {
    const std::array rows{
        BadElement{"kind = \"fuze\"", "did you mean 'fuse'?"},
        BadElement{"between = [\"A\", \"B\"]", "'kind' is missing"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\", \"B\"]\nresistanse = \"1 ohm\"",
                   "did you mean 'resistance'?"},
        BadElement{"kind = \"resistor\"\nresistance = \"1 ohm\"", "'between' is missing"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\", \"C\"]", "no terminal 'C'"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\"]", "names 1 terminals"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\", \"A\"]", "names the terminal 'A' twice"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\", \"B\"]\nresistance = \"-5 ohm\"",
                   "it must be more than zero"},
        BadElement{"kind = \"resistor\"\nbetween = [\"A\", \"B\"]\nresistance = \"5 V\"", "9:15 "},
        BadElement{"kind = \"conductor\"\nbetween = [\"A\", \"B\"]\nresistance = \"-1 ohm\"", "it cannot be negative"},
        BadElement{"kind = \"fuse\"\nbetween = [\"A\", \"B\"]", "'family' is missing"},
        BadElement{"kind = \"heater\"\nbetween = [\"A\", \"B\"]\nworking_temperature = \"-300 °C\"",
                   "below absolute zero"},
        BadElement{"kind = \"heater\"\nbetween = [\"A\", \"B\"]\ncold_factor = 0.5", "it must be 1 or more"},
        BadElement{"kind = \"contact\"\nbetween = [\"A\", \"B\"]\nrests = \"open\"", "what operates"},
        BadElement{"kind = \"contact\"\nbetween = [\"A\", \"B\"]\nrests = \"open\"\ndriven_by = \"IN\"",
                   "no input or coil"},
        BadElement{"kind = \"contact\"\nbetween = [\"A\", \"B\"]\nrests = \"open\"\noperated_by = \"foot\"", "foot"},
        BadElement{"kind = \"transistor\"\nbetween = [\"A\", \"B\"]", "what drives"},
        BadElement{"kind = \"load\"\nbetween = [\"A\", \"B\"]\ncategory = \"lamp\"\npower = \"5 W\"\ncurrent = \"1 A\"",
                   "'behaviour' is missing"},
        BadElement{"kind = \"cutoff\"\nbetween = [\"A\", \"B\"]\nreset = \"self\"\nrated = { resistive = \"10 V\" }",
                   "up to which voltage"},
        BadElement{
            "kind = \"cutoff\"\nbetween = [\"A\", \"B\"]\nreset = \"self\"\nrated = { resistiv = \"1 A at 9 V\" }",
            "'resistive'"},
        BadElement{"kind = \"converter\"\ninput = [\"A\", \"GND\"]\noutput_terminals = [\"B\", \"GND\"]\n"
                   "topology = \"linear\"\nefficiency = \"120 %\"",
                   "at most at 1"},
        BadElement{"kind = \"converter\"\ninput = [\"A\", \"GND\"]\noutput_terminals = [\"B\", \"GND\"]\n"
                   "topology = \"linear\"\noutput = \"5 V\"\noutput_range = \"6..9 V\"",
                   "can only be set within"},
        BadElement{"kind = \"pin\"\nterminal = \"IN\"\nground = \"GND\"\nsupply = \"A\"\nmodes = [\"analog\"]",
                   "'analog'"},
        BadElement{"kind = \"conductor\"\nname = \"a b\"\nbetween = [\"A\", \"B\"]",
                   "cannot be the name of an element"},
        BadElement{
            "kind = \"conductor\"\nname = \"x\"\nbetween = [\"A\", \"B\"]\n[[thing.element]]\nkind = \"conductor\"\n"
            "name = \"x\"\nbetween = [\"A\", \"B\"]",
            "are called 'x'"},
    };
    for (const BadElement& row : rows) {
        const std::string errors = errors_of_element(row.keys);
        EXPECT_NE(errors.find(row.fragment), std::string::npos) << row.keys << "\n-> " << errors;
        EXPECT_EQ(std::ranges::count(errors, '\n'), 1) << row.keys << "\n-> " << errors;
    }
}

TEST(ReadPart, RefusesBadHeads) {
    struct Row {
        std::string_view text;
        std::string_view fragment;
    };
    const std::array rows{
        Row{"[t]\nbasis = \"typical\"\nsource = \"x\"\nterminals = [\"A\"]", "'title' is missing"},
        Row{"[t]\ntitle = \"x\"\nsource = \"x\"\nterminals = [\"A\"]", "'basis' is missing"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"guess\"\nsource = \"x\"\nterminals = [\"A\"]", "guess"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nterminals = [\"A\"]", "'source' is missing"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nsource = \"x\"", "'terminals' is missing"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nsource = \"x\"\nterminals = [\"A\", \"A\"]", "listed twice"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nsource = \"x\"\nterminals = [\"A B\"]", "name of a terminal"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nsource = \"x\"\nterminals = [\"A\"]\n[t.terminal.B]\nkind = "
            "\"screw\"",
            "no terminal 'B'"},
        Row{"[t]\ntitle = \"x\"\nbasis = \"typical\"\nsource = \"x\"\nterminals = []",
            "neither terminals nor elements"},
    };
    for (const Row& row : rows) {
        const Library library{std::string(row.text)};
        const std::string errors = to_text(library.errors) + to_text(library.catalog.find("t")->errors);
        EXPECT_NE(errors.find(row.fragment), std::string::npos) << row.text << "\n-> " << errors;
        EXPECT_EQ(std::ranges::count(errors, '\n'), 1) << row.text << "\n-> " << errors;
    }
}

TEST(ReadPart, OnePinElementMayStandForMany) {
    const Library library(
        fmt::format("{}[[thing.element]]\nkind = \"pin\"\nterminals = [\"A\", \"B\"]\nground = \"GND\"\n"
                    "supply = \"IN\"\nmodes = [\"adc\"]\n",
                    header));
    const Loaded<Part>& loaded = *library.catalog.find("thing");
    ASSERT_TRUE(loaded) << to_text(loaded.errors);
    ASSERT_EQ(loaded.value->elements.size(), 2U);
    EXPECT_EQ(loaded.value->elements[1].name, "pin-B");
    EXPECT_EQ(element_of<PinElement>(*loaded.value, "pin-B").terminal.value, 1);
}

TEST(ReadPart, ATransistorWithoutReferenceTakesThatOfItsInput) {
    const Library library(fmt::format("{}[[thing.element]]\nkind = \"transistor\"\nbetween = [\"A\", \"B\"]\n"
                                      "driven_by = \"IN\"\n[[thing.element]]\nkind = \"input\"\nterminal = \"IN\"\n"
                                      "reference = \"GND\"\nactive = \"high\"\n",
                                      header));
    const Loaded<Part>& loaded = *library.catalog.find("thing");
    ASSERT_TRUE(loaded) << to_text(loaded.errors);
    EXPECT_EQ(element_of<TransistorElement>(*loaded.value, "transistor").reference.value, 3);
}

TEST(ReadPart, AnElementMayBeKnownBetterThanItsPart) {
    const Library library(fmt::format("{}[[thing.element]]\nkind = \"resistor\"\nbetween = [\"A\", \"B\"]\n"
                                      "basis = \"measured\"\nresistance = \"10 ohm\"\n",
                                      header));
    const Loaded<Part>& loaded = *library.catalog.find("thing");
    ASSERT_TRUE(loaded) << to_text(loaded.errors);
    EXPECT_EQ(element_of<ResistorElement>(*loaded.value, "resistor").resistance->basis, Basis::measured);
}

} // namespace
} // namespace trivet
