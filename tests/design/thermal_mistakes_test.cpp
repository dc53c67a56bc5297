#include "design/build.h"

#include <gtest/gtest.h>

#include <array>
#include <span>

namespace trivet {
namespace {

constexpr std::string_view one_wire = "[[wire]]\nfrom = \"supply.+\"\nto = \"fuse.in\"\n";

std::string with_start(std::string_view rest) { return fmt::format("{}{}{}", design_start, one_wire, rest); }

struct Mistake {
    std::string_view text; // after a sound start
    ErrorKind kind;
    std::string_view fragment;
};

// Each text added to a sound start gives exactly one error.
void expect_one_error(std::string_view start, std::span<const Mistake> rows) {
    for (const Mistake& row : rows) {
        const Build build{with_start(fmt::format("{}{}", start, row.text))};
        ASSERT_EQ(build.design.errors.size(), 1U) << row.text << "\n" << to_text(build.design.errors);
        EXPECT_FALSE(build.design.value);
        EXPECT_EQ(build.design.errors[0].kind, row.kind) << row.text;
        EXPECT_FALSE(build.design.errors[0].hint.empty() && row.kind != ErrorKind::bad_quantity) << row.text;
        EXPECT_NE(to_text(build.design.errors).find(row.fragment), std::string::npos) << to_text(build.design.errors);
    }
}

constexpr std::string_view way_for_b = "[[heat_path]]\nfrom = \"b\"\nto = \"ambient\"\n";

TEST(ThermalMistakes, BodiesWithMistakes) {
    const std::array rows{
        Mistake{"mass = \"-1 g\"\nmaterial = \"wax\"\n", ErrorKind::out_of_range, "more than zero"},
        Mistake{"mass = \"100 g\"\n", ErrorKind::missing_key, "a mass alone"},
        Mistake{"mass = \"100 g\"\nmaterial = \"wax\"\ncapacity = \"9 J/K\"\n", ErrorKind::ambiguous,
                "from which another one follows"},
        Mistake{"heated_by = [\"plate\", \"plate\"]\n", ErrorKind::duplicate_name, "twice in this list"},
        Mistake{"heated_by = \"pate\"\n", ErrorKind::unknown_name, "did you mean 'plate'?"},
        Mistake{"material = \"wex\"\n", ErrorKind::unknown_name, "did you mean 'wax'?"},
        Mistake{"material = \"fan\"\n", ErrorKind::unknown_name, "is a part, not a material"},
        Mistake{"material = \"broken\"\n", ErrorKind::unknown_key, "'colour'"},
        Mistake{"touch = \"metl\"\n", ErrorKind::unknown_name, "did you mean 'metal'?"},
        Mistake{"touched_for = \"0 s\"\n", ErrorKind::out_of_range, "more than zero"},
        Mistake{"may_be = [\"coverd\"]\n", ErrorKind::unknown_name, "did you mean 'covered'?"},
        Mistake{"above = \"supply\"\n", ErrorKind::missing_key, "nothing says that it is a liquid"},
        Mistake{"material = \"wax\"\nliquid = false\nabove = \"supply\"\n", ErrorKind::missing_key, "is a liquid"},
        Mistake{"limit = \"30 °C\"\n", ErrorKind::out_of_range, "may have 35.0 °C"},
        Mistake{"[[body]]\nname = \"b\"\n", ErrorKind::duplicate_name, "two bodies"},
    };
    expect_one_error(fmt::format("{}[[body]]\nname = \"b\"\n", way_for_b), rows);
}

TEST(ThermalMistakes, APartHeatsOneBody) {
    const std::array rows{Mistake{"heated_by = \"plate\"\n[[body]]\nname = \"c\"\nheated_by = \"plate\"\n"
                                  "[[heat_path]]\nfrom = \"b\"\nto = \"c\"\n",
                                  ErrorKind::ambiguous, "already heats the body 'b'"}};
    expect_one_error(fmt::format("{}[[body]]\nname = \"b\"\n", way_for_b), rows);
}

TEST(ThermalMistakes, HeatPathsAreDescribedInOneWay) {
    const std::array rows{
        Mistake{"conductance = \"3 W/K\"\narea = \"4 cm2\"\n", ErrorKind::ambiguous, "by 'conductance' and by 'area'"},
        Mistake{"conductance = \"3 W/K\"\nmaterial = \"wax\"\narea = \"4 cm2\"\nthickness = \"1 mm\"\n",
                ErrorKind::ambiguous, "described twice"},
        Mistake{"conductance = \"3 W/K\"\nemissivity = 0.9\n", ErrorKind::ambiguous, "by 'emissivity'"},
        Mistake{"thickness = \"2 mm\"\nmaterial = \"wax\"\narea = \"4 cm2\"\nfacing = \"up\"\n", ErrorKind::ambiguous,
                "by 'thickness' and by 'facing'"},
        Mistake{"thickness = \"2 mm\"\nmaterial = \"wax\"\n", ErrorKind::missing_key, "without 'area'"},
        Mistake{"thickness = \"2 mm\"\narea = \"4 cm2\"\n", ErrorKind::missing_key, "without 'material'"},
        Mistake{"material = \"wax\"\narea = \"4 cm2\"\n", ErrorKind::missing_key, "without 'thickness'"},
        Mistake{"area = \"4 cm2\"\n", ErrorKind::missing_key, "an area alone"},
        Mistake{"facing = \"up\"\n", ErrorKind::missing_key, "'facing' says nothing here without 'area'"},
        Mistake{"area = \"4 cm2\"\nemissivity = 0.5\n", ErrorKind::missing_key, "without 'facing'"},
        Mistake{"area = \"4 cm2\"\nheight = \"5 cm\"\n", ErrorKind::missing_key, "without 'facing'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nfan = \"supply\"\n", ErrorKind::missing_key,
                "'fan' says nothing here without 'air_speed'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nair_speed = \"1 m/s\"\n", ErrorKind::missing_key, "without 'fan'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nheight = \"2 cm\"\n", ErrorKind::ambiguous, "has no 'height'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"vertical\"\nwidth = \"2 cm\"\n", ErrorKind::ambiguous, "has no 'width'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"round\"\n", ErrorKind::missing_key, "without 'height'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"uo\"\n", ErrorKind::unknown_name, "uo"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nemissivity = 1.3\n", ErrorKind::out_of_range, "outside 0 to 1"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nfan = \"fen\"\nair_speed = \"1 m/s\"\n", ErrorKind::unknown_name,
                "no part 'fen'"},
        Mistake{"area = \"4 cm2\"\nfacing = \"up\"\nfan = \"plate\"\nair_speed = \"1 A\"\n", ErrorKind::bad_quantity,
                "a speed was expected"},
        Mistake{"[[heat_path]]\nto = \"ambient\"\n", ErrorKind::missing_key, "'from' is missing"},
        Mistake{"[[heat_path]]\nfrom = \"bb\"\nto = \"b\"\n", ErrorKind::unknown_name, "no body 'bb'"},
        Mistake{"[[heat_path]]\nfrom = \"ambient\"\nto = \"ambient\"\n", ErrorKind::wire_to_itself,
                "back to 'ambient'"},
    };
    expect_one_error(fmt::format("[[body]]\nname = \"b\"\n{}", way_for_b), rows);
}

TEST(ThermalMistakes, EveryBodyHasAWayToTheRoom) {
    const std::array rows{
        Mistake{"[[body]]\nname = \"b\"\nheated_by = \"plate\"\n", ErrorKind::missing_key,
                "no heat path leads from 'b' to the ambient air; it would get hotter for ever"},
        Mistake{"[[body]]\nname = \"b\"\n", ErrorKind::missing_key, "nothing heats 'b' and no heat path leads to it"},
    };
    expect_one_error("", rows);
    const Build nameless{with_start("[[body]]\nheated_by = \"plate\"\n")};
    EXPECT_EQ(nameless.design.errors.size(), 1U) << to_text(nameless.design.errors);
    const Build island{with_start("[[body]]\nname = \"b\"\n[[body]]\nname = \"c\"\n[[heat_path]]\nfrom = \"b\"\n"
                                  "to = \"c\"\n[[body]]\nname = \"d\"\nheated_by = \"plate\"\n[[body]]\nname = \"e\"\n"
                                  "[[heat_path]]\nfrom = \"d\"\nto = \"e\"\n")};
    const std::string errors = to_text(island.design.errors);
    EXPECT_EQ(island.design.errors.size(), 4U) << errors;
    EXPECT_NE(errors.find("no heat path leads from 'b' to the ambient air ["), std::string::npos) << errors;
    EXPECT_NE(errors.find("'e' to the ambient air; it would get hotter"), std::string::npos) << errors;
}

TEST(ThermalMistakes, PlacesWithMistakes) {
    const std::array rows{
        Mistake{"[part.x]\nis = \"fuse\"\nmounted_on = \"bb\"\n", ErrorKind::unknown_name, "to mount on"},
        Mistake{"[part.x]\nis = \"fuse\"\nmounted_on = \"y\"\n[part.y]\nis = \"fuse\"\nmounted_on = \"x\"\n",
                ErrorKind::out_of_range, "in a circle without end"},
        Mistake{"[part.x]\nis = \"fuse\"\nbeside = \"bloc\"\n", ErrorKind::unknown_name, "did you mean 'block'?"},
        Mistake{"[part.x]\nis = \"fuse\"\nsees = \"supply\"\n", ErrorKind::unknown_name,
                "'supply' neither heats a body nor is mounted on one"},
        Mistake{"[[wire]]\nfrom = \"fuse.out\"\nto = \"plate.A\"\nbeside = \"x\"\n", ErrorKind::unknown_name,
                "no part or body 'x'"},
    };
    expect_one_error("[[body]]\nname = \"block\"\n[[heat_path]]\nfrom = \"block\"\nto = \"ambient\"\n", rows);
}

// A band is the whole width and lies half above the setpoint.
TEST(ThermalMistakes, SettingsThatContradictEachOther) {
    const std::array rows{
        Mistake{"setpoint = \"60 °C\"\nfirmware_limit = \"60 °C\"\n", ErrorKind::out_of_range, "stops at 60.0 °C"},
        Mistake{"setpoint = \"60 °C\"\nband = \"2 K\"\nfirmware_limit = \"61 °C\"\n", ErrorKind::out_of_range,
                "regulates up to 61.0 °C (setpoint 60.0 °C and half the band of 2.00 K)"},
        Mistake{"setpoint = \"91 °C\"\n", ErrorKind::out_of_range, "'block' bears only 90.0 °C"},
        Mistake{"setpoint = \"60 °C\"\nband = \"2 K\"\nmethod = \"proportional\"\n", ErrorKind::ambiguous,
                "has no band"},
        Mistake{"method = \"three-point\"\n", ErrorKind::unknown_name, "three-point"},
    };
    constexpr std::string_view start =
        "[[body]]\nname = \"block\"\nlimit = \"90 °C\"\nheated_by = \"plate\"\n[[heat_path]]\nfrom = \"block\"\n"
        "to = \"ambient\"\n[[control]]\nname = \"c\"\nsenses = [\"supply\", \"plate\"]\n";
    expect_one_error(start, rows);
    const Build sound{
        with_start(fmt::format("{}setpoint = \"60 °C\"\nband = \"2 K\"\nfirmware_limit = \"61.1 °C\"\n", start))};
    EXPECT_TRUE(sound.design) << to_text(sound.design.errors);
}

// A chain of a hundred thousand parts, each mounted on the next, takes time in proportion to its length.
TEST(ThermalMistakes, LongChainsOfMountingEndSoon) {
    std::string text;
    constexpr int length = 100'000;
    for (int i = 0; i < length; ++i)
        text += fmt::format("[part.p{}]\nis = \"fuse\"\nmounted_on = \"p{}\"\n", i, (i + 1) % length);
    const Build circle{with_start(text)};
    EXPECT_EQ(circle.design.errors.size(), 1U);
}

} // namespace
} // namespace trivet
