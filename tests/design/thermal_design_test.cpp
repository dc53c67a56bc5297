#include "design/build.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

constexpr std::string_view one_wire = "[[wire]]\nfrom = \"supply.+\"\nto = \"fuse.in\"\n";

constexpr std::string_view heated = R"([part.fan]
is = "fan"
[part.limiter]
is = "cutoff"
mounted_on = "bracket"
[part.bracket]
is = "fuse"
mounted_on = "plate"
[part.board]
is = "board"
beside = "limiter"
temperature_limit = "70 °C"
basis = "datasheet"
[part.eye]
is = "board"
sees = "wax"
[[wire]]
from = "fuse.out"
to = "plate.A"
beside = "plate"
[[control]]
name = "hold"
senses = "eye"
drives = "board"
setpoint = "65 °C"
method = "proportional"
[[control]]
name = "guard"
method = "two-point"
band = "2 K"
[[body]]
name = "block"
heated_by = ["plate", "fan"]
mass = "220 g"
material = "aluminium"
touchable = true
touch = "metal"
touched_for = "10 s"
may_be = ["covered", "empty"]
[[body]]
name = "wax"
capacity = "600 J/K"
material = "wax"
above = ["board", "eye"]
[[body]]
name = "lid"
liquid = false
[[heat_path]]
from = "ambient"
to = "block"
area = "400 cm2"
facing = "up"
width = "20 cm"
emissivity = 0.9
fan = "fan"
air_speed = "1..2 m/s"
[[heat_path]]
from = "block"
to = "wax"
area = "300 cm2"
thickness = "1 mm"
material = "aluminium"
[[heat_path]]
from = "wax"
to = "lid"
[[heat_path]]
from = "lid"
to = "ambient"
area = "90 cm2"
facing = "round"
height = "5 cm"
)";

std::string with_start(std::string_view rest) { return fmt::format("{}{}{}", design_start, one_wire, rest); }

TEST(ThermalDesign, BodiesAreReadWithAllTheyMaySay) {
    const Build build{with_start(heated)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Design& design = *build.design.value;
    ASSERT_EQ(design.bodies.size(), 3U);
    const Body& block = design.bodies[0];
    EXPECT_EQ(block.heated_by, (std::vector<PartId>{{2}, {3}}));
    EXPECT_TRUE(block.made_of);
    EXPECT_EQ(block.touch, "metal");
    EXPECT_DOUBLE_EQ(block.touched_for->value.lo.si, 10.0);
    EXPECT_TRUE(block.may_be_covered);
    EXPECT_TRUE(block.may_be_empty);
    EXPECT_FALSE(block.liquid);
    const Body& wax = design.bodies[1];
    EXPECT_TRUE(wax.liquid); // its material is
    EXPECT_EQ(wax.made_of->touch, "plastic");
    EXPECT_EQ(wax.above, (std::vector<PartId>{{6}, {7}}));
    EXPECT_TRUE(wax.above_stated);
    EXPECT_FALSE(block.above_stated);
    EXPECT_DOUBLE_EQ(wax.capacity->value.lo.si, 600.0);
    EXPECT_FALSE(design.bodies[2].may_be_covered);
}

TEST(ThermalDesign, HeatPathsBeginAtABody) {
    const Build build{with_start(heated)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const auto& paths = build.design.value->heat_paths;
    ASSERT_EQ(paths.size(), 4U);
    EXPECT_EQ(paths[0].from, "block"); // written from the ambient air
    EXPECT_EQ(paths[0].to, "ambient");
    EXPECT_EQ(paths[0].from_body.value, 0U);
    EXPECT_FALSE(paths[0].to_body);
    EXPECT_EQ(paths[0].fan->value, 3U);
    EXPECT_DOUBLE_EQ(paths[0].air_speed->value.hi.si, 2.0);
    EXPECT_DOUBLE_EQ(paths[0].width->value.hi.si, 0.2);
    EXPECT_EQ(paths[1].to_body->value, 1U);
    EXPECT_TRUE(paths[1].made_of);
    EXPECT_FALSE(paths[2].conductance); // left open
    EXPECT_EQ(paths[3].facing, "round");
    EXPECT_DOUBLE_EQ(paths[3].height->value.lo.si, 0.05);
}

TEST(ThermalDesign, APathMayBeThereOnlyWhileABodyIsAway) {
    const Build build{with_start("[[body]]\nname = \"block\"\nheated_by = \"plate\"\n[[body]]\nname = \"pot\"\n"
                                 "may_be = \"empty\"\n[[heat_path]]\nfrom = \"block\"\nto = \"ambient\"\n"
                                 "without = \"pot\"\n[[heat_path]]\nfrom = \"block\"\nto = \"pot\"\n"
                                 "[[heat_path]]\nfrom = \"pot\"\nto = \"ambient\"\n")};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->heat_paths[0].without->value, 1U);
    EXPECT_FALSE(build.design.value->heat_paths[1].without);
}

TEST(ThermalDesign, PartsAreFoundOnTheBodyBelowThem) {
    const Build build{with_start(heated)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Design& design = *build.design.value;
    EXPECT_FALSE(design.parts[0].on_body);
    EXPECT_EQ(design.parts[2].on_body->value, 0U); // a heater is on the body that it heats
    EXPECT_EQ(design.parts[3].on_body->value, 0U);
    EXPECT_EQ(design.parts[4].on_body->value, 0U); // on a bracket on the heater
    EXPECT_EQ(design.parts[4].mounted_on->value, 5U);
    EXPECT_EQ(design.parts[6].beside_body->value, 0U);
    EXPECT_FALSE(design.parts[6].on_body);
    EXPECT_EQ(design.parts[7].sees_body->value, 1U);
    EXPECT_EQ(design.wires[1].beside_body->value, 0U);
    EXPECT_TRUE(design.controls[0].proportional);
    EXPECT_FALSE(design.controls[1].proportional);
}

TEST(ThermalDesign, AShortWireLineMayNameItsNeighbour) {
    const std::string text = fmt::format(
        "trivet = 1\nwires = [\"supply.+ -> plate.A : 1.0mm2 beside=block pvc\"]\n{}[[body]]\nname = \"block\"\n"
        "heated_by = \"plate\"\n[[heat_path]]\nfrom = \"block\"\nto = \"ambient\"\n",
        design_start.substr(design_start.find('[')));
    const Build build{text};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->wires[0].beside_body->value, 0U);
    EXPECT_EQ(build.design.value->wires[0].made_of.insulation, "pvc");
}

TEST(ThermalDesign, APartMountedElsewhereIsNotWhereItsHeatGoes) {
    const Build build{with_start("[part.fan]\nis = \"fan\"\nmounted_on = \"lid\"\n[part.hot]\nis = \"plate\"\n"
                                 "mounted_on = \"hot\"\n[[body]]\nname = \"air\"\nheated_by = \"fan\"\n"
                                 "[[body]]\nname = \"lid\"\n[[body]]\nname = \"hot\"\nheated_by = \"hot\"\n"
                                 "[[heat_path]]\nfrom = \"air\"\nto = \"lid\"\n[[heat_path]]\nfrom = \"lid\"\n"
                                 "to = \"ambient\"\n[[heat_path]]\nfrom = \"lid\"\nto = \"hot\"\n")};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->parts[3].on_body->value, 1U);
    EXPECT_EQ(build.design.value->parts[4].on_body->value, 2U); // the body of the same name, not itself
    EXPECT_FALSE(build.design.value->parts[4].mounted_on);
}

TEST(ThermalDesign, WithoutBodiesPlacesAreKeptAsFarAsTheyGo) {
    const Build build{with_start("[part.fan]\nis = \"fan\"\nmounted_on = \"plate\"\nbeside = \"plate\"\n")};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    EXPECT_EQ(build.design.value->parts[3].mounted_on->value, 2U);
    EXPECT_FALSE(build.design.value->parts[3].on_body);
    EXPECT_FALSE(build.design.value->parts[3].beside_body);
}

TEST(ThermalDesign, DesignsRestateLimitsAndLags) {
    const Build build{with_start("[part.fan]\nis = \"fan\"\ntemperature_limit = \"60 °C\"\nbasis = \"datasheet\"\n"
                                 "[part.limiter]\nis = \"cutoff\"\nreset_temperature = \"70 °C\"\n"
                                 "response_time = \"12 s\"\nbasis = \"measured\"\n[part.second]\nis = \"fan\"\n")};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Design& design = *build.design.value;
    EXPECT_DOUBLE_EQ(in_celsius(design.parts[3].part->temperature_limit->range.lo), 60.0);
    EXPECT_EQ(design.parts[3].part->temperature_limit->basis, Basis::datasheet);
    EXPECT_DOUBLE_EQ(in_celsius(design.parts[5].part->temperature_limit->range.lo), 70.0);
    EXPECT_EQ(design.parts[5].part->temperature_limit->basis, Basis::typical);
    const auto& limiter = std::get<CutoffElement>(design.parts[4].part->elements[0].body);
    EXPECT_DOUBLE_EQ(limiter.response_time->range.lo.si, 12.0);
    EXPECT_EQ(limiter.reset_temperature->basis, Basis::measured);
}

} // namespace
} // namespace trivet
