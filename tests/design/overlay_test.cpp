#include "design/overlay.h"

#include "design/build.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

// A pot whose numbers are known, on a plate whose numbers a log decides.
std::string open_design() {
    return std::string(design_start) + R"(
[[wire]]
from = "supply.+"
to = "fuse.in"
use = "wire-1.0mm2"
length = "25 cm"
[[body]]
name = "plate"
heated_by = "plate"
[[body]]
name = "pot"
mass = "400 g"
material = "wax"
[[heat_path]]
from = "plate"
to = "pot"
[[heat_path]]
from = "ambient"
to = "pot"
conductance = "0.8 W/K"
)";
}

const std::string fitted = R"(fit = 1
[[body]]
name = "plate"
capacity = "190..210 J/K"
[[heat_path]]
from = "pot"
to = "plate"
conductance = "2.9..3.1 W/K"
)";

TEST(Overlay, CompletesWhatTheDesignLeavesOpen) {
    Build build(open_design());
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    Design& design = *build.design.value;
    EXPECT_TRUE(is_open(design.bodies[0]));
    EXPECT_FALSE(is_open(design.bodies[1]));
    EXPECT_TRUE(is_open(design.heat_paths[0]));
    EXPECT_FALSE(is_open(design.heat_paths[1]));
    const Errors errors = apply_overlay(design, build.sources.add("fitted.toml", fitted));
    ASSERT_TRUE(errors.empty()) << to_text(errors);
    EXPECT_DOUBLE_EQ(design.bodies[0].capacity->value.hi.si, 210.0);
    EXPECT_DOUBLE_EQ(design.heat_paths[0].conductance->value.lo.si, 2.9); // found the other way round
}

struct Refused {
    std::string text;
    std::uint32_t line;
    const char* fragment;
};

TEST(Overlay, RefusesWhatDoesNotFitTheDesign) {
    const std::string path = "[[heat_path]]\nfrom = \"plate\"\n";
    const Refused rows[] = {
        {"", 0, "not a file of fitted numbers"},
        {"fit = 2\n", 1, "only 1 is known"},
        {"fit = 1\n[[body]]\nname = \"plat\"\ncapacity = \"1 J/K\"\n", 3, "no body 'plat' [did you mean 'plate'"},
        {"fit = 1\n[[body]]\nname = \"plate\"\n", 2, "capacity"},
        {"fit = 1\n[[body]]\nname = \"plate\"\ncapacity = \"-1 J/K\"\n", 4, "capacity"},
        {"fit = 1\n[[body]]\nname = \"plate\"\ncapacity = \"1 W/K\"\n", 4, "heat capacity"},
        {"fit = 1\n[[body]]\nname = \"pot\"\ncapacity = \"1 J/K\"\n", 3, "stated by the design and by the fitted"},
        {"fit = 1\n" + path + "to = \"ambient\"\nconductance = \"1 W/K\"\n", 3,
         "no heat path from 'plate' to 'ambient'"},
        {"fit = 1\n[[heat_path]]\nfrom = \"pot\"\nto = \"ambient\"\nconductance = \"1 W/K\"\n", 3,
         "stated by the design"},
        {"fit = 1\n" + path + "to = \"pot\"\n", 2, "conductance"},
        {"fit = 1\nlimit = 3\n", 2, "limit"},
        {"fit = = 1\n", 1, "not valid TOML"},
    };
    for (const Refused& row : rows) {
        Build build(open_design());
        ASSERT_TRUE(build.design);
        const Errors errors = apply_overlay(*build.design.value, build.sources.add("fitted.toml", row.text));
        const std::string text = to_text(errors);
        EXPECT_NE(text.find(row.fragment), std::string::npos) << row.fragment << " in\n" << text;
        EXPECT_TRUE(std::ranges::any_of(errors, [&](const InputError& e) { return e.place.line == row.line; })) << text;
        EXPECT_FALSE(build.design.value->bodies[0].capacity);
    }
}

TEST(Overlay, ShowsBothPlacesOfWhatIsStatedTwice) {
    Build build(open_design());
    const Errors errors =
        apply_overlay(*build.design.value,
                      build.sources.add("fitted.toml", "fit = 1\n[[body]]\nname = \"pot\"\ncapacity = \"1 J/K\"\n"));
    ASSERT_EQ(errors.size(), 2U);
    EXPECT_NE(errors[0].place.file, errors[1].place.file);
    EXPECT_EQ(errors[1].place.line, build.design.value->bodies[1].mass->place.line);
}

TEST(Overlay, RoundsOutward) {
    EXPECT_EQ(rounded_outward(2.97104, 0.06822, false), "2.971");
    EXPECT_EQ(rounded_outward(3.03926, 0.06822, true), "3.040");
    EXPECT_EQ(rounded_outward(12344.0, 900.0, false), "12340");
    EXPECT_EQ(rounded_outward(12344.0, 900.0, true), "12350");
    EXPECT_EQ(rounded_outward(0.5, 0.0, true), "0.50000");
}

TEST(Overlay, ReadsWhatItWrites) {
    Build build(open_design());
    const Overlay overlay{{{"plate", {{190.123}, {210.987}}}}, {{"plate", "pot", {{2.9012}, {3.1049}}}}};
    const std::string text = overlay_text(overlay, {"From log.csv for design.toml."});
    EXPECT_TRUE(is_overlay(text));
    EXPECT_FALSE(is_overlay(fitted));
    const Errors errors = apply_overlay(*build.design.value, build.sources.add("fitted.toml", text));
    ASSERT_TRUE(errors.empty()) << to_text(errors);
    EXPECT_DOUBLE_EQ(build.design.value->bodies[0].capacity->value.lo.si, 190.0);
    EXPECT_DOUBLE_EQ(build.design.value->bodies[0].capacity->value.hi.si, 211.0);
    EXPECT_DOUBLE_EQ(build.design.value->heat_paths[0].conductance->value.lo.si, 2.90);
    EXPECT_DOUBLE_EQ(build.design.value->heat_paths[0].conductance->value.hi.si, 3.11);
}

} // namespace
} // namespace trivet
