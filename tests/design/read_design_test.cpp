#include "design/build.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>

namespace trivet {
namespace {

constexpr std::string_view one_wire = "[[wire]]\nfrom = \"supply.+\"\nto = \"fuse.in\"\n";

constexpr std::string_view whole = R"(trivet = 1
wires = ["supply.- -> plate.B : 1.0mm2 pvc 25 cm BK"]
[build]
title = "Wax melting plate"
purpose = "Melts wax"
ambient = "10..35 °C"
attended = true
[part.supply]
is = "supply"
note = "from the drawer"
[part.fuse]
is = "fuse"
[part.plate]
is = "plate"
heater = { resistance = "9.3..9.7 ohm" }
bonded_to = "supply.-"
basis = "measured"
[part.buck]
is = "buck"
output = "5 V"
mounted_on = "tray"
ambient = "30..50 °C"
[part.board]
is = "board"
pins = { IO1 = "digital-out", IO2 = "adc" }
mounted_on = "plate"
[[wire]]
from = "supply.+"
to = "fuse.in"
use = "wire-1.0mm2"
length = "24..26 cm"
colour = "RD"
bundle = "loom-a"
ends = "ferrule/crimped"
ambient = "20..60 °C"
[[wire]]
name = "hot"
from = "fuse.out"
to = "plate.A"
area = "18 AWG"
insulation = "silicone"
[[control]]
name = "hold the wax"
senses = "plate"
drives = ["buck", "board"]
setpoint = "75 °C"
band = "2 K"
every = "1 s"
firmware_limit = "95 °C"
never_with = []
[[body]]
name = "plate"
heated_by = "plate"
mass = "220 g"
material = "aluminium"
limit = "180 °C"
touchable = false
[[body]]
name = "tray"
capacity = "300 J/K"
[[heat_path]]
from = "plate"
to = "tray"
conductance = "3 W/K"
[[heat_path]]
from = "tray"
to = "ambient"
area = "0.045 m2"
facing = "vertical"
emissivity = 0.3
[policy]
supply_load_factor = 0.8
touch_limit = "60 °C"
)";

TEST(ReadDesign, TakesEverySectionOfTheFormat) {
    const Build build{std::string(whole)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Design& design = *build.design.value;
    EXPECT_EQ(design.title, "Wax melting plate");
    EXPECT_EQ(design.purpose, "Melts wax");
    EXPECT_DOUBLE_EQ(design.ambient.value.lo.si, 283.15);
    EXPECT_TRUE(design.attended->value);
    ASSERT_EQ(design.parts.size(), 5U);
    EXPECT_EQ(design.parts[0].note, "from the drawer");
    ASSERT_TRUE(design.parts[2].bonded_to);
    EXPECT_EQ(design.terminal_name(*design.parts[2].bonded_to), "supply.-");
    EXPECT_FALSE(design.parts[3].bonded_to);
    EXPECT_EQ(design.parts[3].mounted_on_name, "tray");
    EXPECT_FALSE(design.parts[3].mounted_on);
    EXPECT_DOUBLE_EQ(design.parts[3].ambient->value.hi.si, 323.15);
    EXPECT_EQ(design.parts[4].mounted_on->value, 2U);
    EXPECT_EQ(design.parts[4].pins.at("IO2").value, "adc");

    ASSERT_EQ(design.controls.size(), 1U);
    EXPECT_EQ(design.controls[0].senses, (std::vector<PartId>{{2}}));
    EXPECT_EQ(design.controls[0].drives, (std::vector<PartId>{{3}, {4}}));
    EXPECT_DOUBLE_EQ(design.controls[0].band->value.lo.si, 2.0);
    ASSERT_EQ(design.bodies.size(), 2U);
    EXPECT_EQ(design.bodies[0].heated_by, (std::vector<PartId>{{2}}));
    EXPECT_DOUBLE_EQ(design.bodies[0].mass->value.lo.si, 0.22);
    EXPECT_FALSE(design.bodies[0].touchable->value);
    ASSERT_EQ(design.heat_paths.size(), 2U);
    EXPECT_EQ(design.heat_paths[1].to, "ambient");
    EXPECT_EQ(design.heat_paths[1].facing, "vertical");
    EXPECT_DOUBLE_EQ(design.heat_paths[1].emissivity->value, 0.3);
    ASSERT_EQ(design.policy.size(), 2U);
    EXPECT_EQ(design.policy[0].text, "0.8");
    EXPECT_EQ(design.policy[1].text, "60 °C");
}

TEST(ReadDesign, ResolvesWires) {
    const Build build{std::string(whole)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Design& design = *build.design.value;
    ASSERT_EQ(design.wires.size(), 3U);
    EXPECT_EQ(design.wires[0].name, "W1");
    EXPECT_EQ(design.wires[1].name, "W2");
    EXPECT_EQ(design.wires[2].name, "hot");
    EXPECT_EQ(design.terminal_name(design.wires[0].from), "supply.-");
    EXPECT_EQ(design.terminal_name(design.wires[0].to), "plate.B");

    const Wire& bought = design.wires[1];
    EXPECT_EQ(bought.made_of.insulation, "pvc");
    EXPECT_EQ(bought.made_of.area->basis, Basis::standard);
    EXPECT_EQ(bought.from_end, WireEnd::ferrule);
    EXPECT_EQ(bought.to_end, WireEnd::crimped);
    EXPECT_DOUBLE_EQ(bought.length->range.hi.si, 0.26);
    EXPECT_EQ(bought.bundle, "loom-a");
    EXPECT_DOUBLE_EQ(bought.ambient->value.hi.si, 333.15);

    const Wire& stated = design.wires[2];
    EXPECT_FALSE(stated.length);
    EXPECT_EQ(stated.made_of.conductor_class, "class 5");
    EXPECT_EQ(stated.made_of.area->basis, Basis::measured);
    // Silicone: 180 °C at the conductor (IEC 60245-3, from memory).
    EXPECT_DOUBLE_EQ(in_celsius(stated.made_of.insulation_class->range.lo), 180.0);
}

TEST(ReadDesign, PartsWithoutOwnValuesShareTheLibrarys) {
    const Build build{fmt::format("{}[part.second]\nis = \"fuse\"\n{}", design_start, one_wire)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->parts[1].part, build.design.value->parts[3].part);
    EXPECT_NE(build.design.value->parts[1].part, build.design.value->parts[0].part);
}

TEST(ReadDesign, TerminalNamesMayHoldDots) {
    const Build build{fmt::format(
        "{}[part.board]\nis = \"board\"\n[[wire]]\nfrom = \"board.EN.1\"\nto = \"board.5V\"\n", design_start)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->terminal_name(build.design.value->wires[0].from), "board.EN.1");
}

struct Mistake {
    std::string_view text; // after design_start
    ErrorKind kind;
    std::string_view fragment;
};

// Each text added to a sound start gives exactly one error.
void expect_one_error(std::string_view before, const Mistake& row) {
    const Build build{fmt::format("{}{}", before, row.text)};
    ASSERT_EQ(build.design.errors.size(), 1U) << row.text << "\n" << to_text(build.design.errors);
    EXPECT_FALSE(build.design.value);
    EXPECT_EQ(build.design.errors[0].kind, row.kind) << row.text;
    EXPECT_NE(to_text(build.design.errors).find(row.fragment), std::string::npos) << to_text(build.design.errors);
}

TEST(ReadDesign, PartsAndSectionsWithMistakes) {
    const std::string start = fmt::format("{}{}", design_start, one_wire);
    const std::array rows{
        Mistake{"[part.x]\n", ErrorKind::missing_key, "'is' is missing"},
        Mistake{"[part.x]\nis = \"fusee\"\n", ErrorKind::unknown_name, "did you mean 'fuse'?"},
        Mistake{"[part.x]\nis = \"wire-1.0mm2\"\n", ErrorKind::wrong_type, "is a wire, not a part"},
        Mistake{"[part.x]\nis = \"broken\"\n", ErrorKind::unknown_key, "'colour'"},
        Mistake{"[part.x]\nis = \"fuse\"\nmounted_on = \"plat\"\n", ErrorKind::unknown_name, "did you mean 'plate'?"},
        Mistake{"[part.x]\nis = \"fuse\"\nmounted_on = \"x\"\n", ErrorKind::out_of_range, "mounted on itself"},
        Mistake{"[part.x]\nis = \"fuse\"\nbonded_to = \"supply\"\n", ErrorKind::unknown_name, "name a terminal"},
        Mistake{"[part.x]\nis = \"fuse\"\nbonded_to = \"fuse.inn\"\n", ErrorKind::unknown_name, "did you mean 'in'?"},
        Mistake{"[part.x]\nis = \"buck\"\n", ErrorKind::missing_key, "nothing says to which output"},
        Mistake{"[part.x]\nis = \"fuse\"\nrated_current = \"3 A\"\n", ErrorKind::missing_key, "say how you know"},
        Mistake{"[part.x]\nis = \"board\"\npins = { IO3 = \"adc\" }\n", ErrorKind::unknown_name, "no pin 'IO3'"},
        Mistake{"[part.x]\nis = \"board\"\npins = { IO1 = \"adcc\" }\n", ErrorKind::unknown_name,
                "did you mean 'adc'?"},
        Mistake{"[part.x]\nis = \"board\"\npins = { IO1 = 1 }\n", ErrorKind::wrong_type, "needs a word in quotes"},
        Mistake{"[part.\"x y\"]\nis = \"fuse\"\n", ErrorKind::out_of_range, "cannot be a name"},
        Mistake{"[part]\nx = 1\n", ErrorKind::unknown_key, "'x'"},
        Mistake{"[[control]]\nsenses = \"plate\"\n", ErrorKind::missing_key, "'name' is missing"},
        Mistake{"[[control]]\nname = \"c\"\nsenses = \"pot\"\n", ErrorKind::unknown_name, "no part 'pot'"},
        Mistake{"[[control]]\nname = \"c\"\n[[control]]\nname = \"c\"\n", ErrorKind::duplicate_name, "two controls"},
        Mistake{"[policy]\nx = [1]\n", ErrorKind::wrong_type, "neither a number nor a quantity"},
        Mistake{"[polcy]\n", ErrorKind::unknown_key, "did you mean 'policy'?"},
    };
    for (const Mistake& row : rows) expect_one_error(start, row);
}

TEST(ReadDesign, HeadsWithMistakes) {
    constexpr std::string_view rest = "[part.supply]\nis = \"supply\"\n[part.fuse]\nis = \"fuse\"\n";
    const std::string body = fmt::format("{}{}", rest, one_wire);
    constexpr std::string_view build = "[build]\ntitle = \"x\"\nambient = \"20 °C\"\n";
    const std::array rows{
        Mistake{"[build]\ntitle = \"x\"\nambient = \"20 °C\"\n", ErrorKind::missing_key, "trivet = 1"},
        Mistake{"trivet = 1\n", ErrorKind::missing_key, "[build] is missing"},
        Mistake{"trivet = 1\n[build]\nambient = \"20 °C\"\n", ErrorKind::missing_key, "'title' is missing"},
        Mistake{"trivet = 1\n[build]\ntitle = \"x\"\n", ErrorKind::missing_key, "'ambient' is missing"},
        Mistake{"trivet = 1\n[build]\ntitle = \"x\"\nambient = \"35..10 °C\"\n", ErrorKind::bad_quantity, "'ambient'"},
        Mistake{"trivet = 1\n[build]\ntitle = \"x\"\nambient = 20\n", ErrorKind::wrong_type, "with its unit"},
    };
    for (const Mistake& row : rows) {
        const Build loaded{fmt::format("{}{}", row.text, body)};
        ASSERT_EQ(loaded.design.errors.size(), 1U) << row.text << to_text(loaded.design.errors);
        EXPECT_EQ(loaded.design.errors[0].kind, row.kind);
        EXPECT_NE(to_text(loaded.design.errors).find(row.fragment), std::string::npos) << to_text(loaded.design.errors);
    }
    expect_one_error("trivet = 1\n", {fmt::format("{}{}", build, rest), ErrorKind::missing_key, "has no wires"});
    expect_one_error("trivet = 1\nwires = []\n", {build, ErrorKind::missing_key, "has no parts"});
}

TEST(ReadDesign, AnotherFormatVersionIsTheOnlyErrorReported) {
    expect_one_error("", {"trivet = 2\nnonsense = 5\n[build]\n", ErrorKind::unsupported_version, "format 2"});
}

TEST(ReadDesign, AllErrorsAtOnce) {
    const Build build{"trivet = 1\n[build]\ntitle = 5\nambient = \"20\"\nwho = 1\n[part.a]\nis = \"fuse\"\nrate = 1\n"
                      "[part.b]\nis = \"nothing\"\n[[wire]]\nfrom = \"a.in\"\nto = \"a.in\"\ncolour = \"XX\"\n"
                      "[[wire]]\nfrom = \"a.into\"\nto = \"c.x\"\nlength = \"1 kg\"\n[body]\n"};
    std::vector<std::uint32_t> lines;
    for (const InputError& error : build.design.errors) lines.push_back(error.place.line);
    for (const std::uint32_t line : {3U, 4U, 5U, 8U, 10U, 13U, 14U, 16U, 17U, 18U, 19U}) {
        EXPECT_TRUE(std::ranges::find(lines, line) != lines.end()) << line << "\n" << to_text(build.design.errors);
    }
    EXPECT_TRUE(std::ranges::is_sorted(lines));
}

TEST(ReadDesign, LimitsAreKept) {
    const std::string text = fmt::format("{}{}{}", design_start, one_wire, one_wire);
    const auto kind_of = [&](const DesignLimits& limits) {
        const Build build{text, limits};
        return build.design.errors.empty() ? ErrorKind::syntax : build.design.errors[0].kind;
    };
    EXPECT_EQ(kind_of({.parts = 2, .wires = 9, .name_length = 9}), ErrorKind::too_large);
    EXPECT_EQ(kind_of({.parts = 9, .wires = 1, .name_length = 9}), ErrorKind::too_large);
    EXPECT_EQ(kind_of({.parts = 9, .wires = 9, .name_length = 5}), ErrorKind::too_large);
    EXPECT_TRUE(Build{text}.design) << to_text(Build{text}.design.errors); // two equal wires: parallel, allowed
}

// Ten thousand misspelt names must not take time in proportion to their square.
TEST(ReadDesign, ManyMistakesEndSoon) {
    std::string text(design_start);
    for (int i = 0; i < 10'000; ++i) text += fmt::format("[part.part_{}]\nis = \"fuse\"\n", i);
    for (int i = 0; i < 10'000; ++i) text += fmt::format("[[wire]]\nfrom = \"part{}.in\"\nto = \"part_{}.in\"\n", i, i);
    const Build build{text};
    EXPECT_FALSE(build.design.value);
    EXPECT_LE(build.design.errors.size(), 201U);
}

} // namespace
} // namespace trivet
