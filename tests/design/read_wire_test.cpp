#include "design/build.h"
#include "design/colour.h"

#include <gtest/gtest.h>

#include <array>

namespace trivet {
namespace {

Build with_line(std::string_view line) {
    return Build{
        fmt::format("trivet = 1\nwires = [\n\"{}\",\n]\n[build]\ntitle = \"x\"\nambient = \"20 °C\"\n[part.supply]\n"
                    "is = \"supply\"\n[part.fuse]\nis = \"fuse\"\n",
                    line)};
}

// Everything a wire says, in one line.
std::string to_text(const Design& design, const Wire& wire) {
    std::string text =
        fmt::format("{} {} {}", wire.name, design.terminal_name(wire.from), design.terminal_name(wire.to));
    if (wire.made_of.area) text += fmt::format(" {:.2f}mm2", wire.made_of.area->range.lo.si * 1e6);
    if (wire.made_of.insulation_class) {
        text +=
            fmt::format(" {} {:.0f}C", wire.made_of.insulation, in_celsius(wire.made_of.insulation_class->range.lo));
    }
    if (wire.length) text += fmt::format(" {:.2f}..{:.2f}m", wire.length->range.lo.si, wire.length->range.hi.si);
    if (!wire.colour.empty()) text += " " + wire.colour;
    if (!wire.bundle.empty()) text += " " + wire.bundle;
    text += fmt::format(" {}/{}", wire_end_names.at(static_cast<std::size_t>(wire.from_end)),
                        wire_end_names.at(static_cast<std::size_t>(wire.to_end)));
    return text;
}

struct GoodLine {
    std::string_view line;
    std::string_view wire;
};

TEST(WireLine, WordsComeInAnyOrder) {
    const std::array rows{
        GoodLine{"supply.+ -> fuse.in", "W1 supply.+ fuse.in unstated/unstated"},
        GoodLine{"supply.+ -> fuse.in : 1.0mm2 pvc 25 cm RD",
                 "W1 supply.+ fuse.in 1.00mm2 pvc 70C 0.25..0.25m RD unstated/unstated"},
        GoodLine{"supply.+ -> fuse.in: RD 25cm pvc 1.0 mm2",
                 "W1 supply.+ fuse.in 1.00mm2 pvc 70C 0.25..0.25m RD unstated/unstated"},
        // ASTM B258: 18 AWG has 0.823 mm².
        GoodLine{"supply.- -> fuse.in : 18 AWG silicone 20..30 cm BK",
                 "W1 supply.- fuse.in 0.82mm2 silicone 180C 0.20..0.30m BK unstated/unstated"},
        GoodLine{"supply.-->fuse.in:18AWG", "W1 supply.- fuse.in 0.82mm2 unstated/unstated"},
        GoodLine{"supply.+ -> fuse.in : wire-1.0mm2 bundle=loom-a ends=ferrule/bare name=feed",
                 "feed supply.+ fuse.in 1.00mm2 pvc 70C loom-a ferrule/bare"},
        GoodLine{"  supply.+   ->   fuse.in   :   ends=soldered  GNYE  xlpe ",
                 "W1 supply.+ fuse.in xlpe 90C GNYE soldered/soldered"},
        GoodLine{"supply.+ -> fuse.in : 0.75mm² rubber RDBU",
                 "W1 supply.+ fuse.in 0.75mm2 rubber 60C RDBU unstated/unstated"},
    };
    for (const GoodLine& row : rows) {
        const Build build = with_line(row.line);
        ASSERT_TRUE(build.design) << row.line << "\n" << to_text(build.design.errors);
        EXPECT_EQ(to_text(*build.design.value, build.design.value->wires[0]), row.wire);
    }
}

struct BadLine {
    std::string_view line;
    ErrorKind kind;
    std::uint32_t column; // 1 is the opening quote
    std::string_view fragment;
};

TEST(WireLine, ErrorsPointIntoTheText) {
    const std::array rows{
        BadLine{"supply.+ fuse.in", ErrorKind::missing_key, 1, "no '->'"},
        BadLine{"supply.+ ->", ErrorKind::missing_key, 13, "one end"},
        BadLine{"supply.+ -> fuse.in 25 cm", ErrorKind::bad_quantity, 22, "put ':'"},
        BadLine{"suply.+ -> fuse.in", ErrorKind::unknown_name, 2, "did you mean 'supply'?"},
        BadLine{"supply.+ -> fuse.inn", ErrorKind::unknown_name, 19, "did you mean 'in'?"},
        BadLine{"supply -> fuse.in", ErrorKind::unknown_name, 2, "a dot between"},
        BadLine{"supply.+ -> supply.+", ErrorKind::wire_to_itself, 14, "back to 'supply.+'"},
        BadLine{"supply.+ -> fuse.in : pvv", ErrorKind::unknown_name, 24, "did you mean 'pvc'?"},
        BadLine{"supply.+ -> fuse.in : red", ErrorKind::unknown_name, 24, "write 'RD' for red"},
        BadLine{"supply.+ -> fuse.in : BURD", ErrorKind::unknown_name, 24, "write 'RDBU'"},
        BadLine{"supply.+ -> fuse.in : YEGN", ErrorKind::unknown_name, 24, "write 'GNYE'"},
        BadLine{"supply.+ -> fuse.in : wire-1.0mm", ErrorKind::unknown_name, 24, "did you mean 'wire-1.0mm2'?"},
        BadLine{"supply.+ -> fuse.in : fuse", ErrorKind::wrong_type, 24, "'fuse' is not a wire"},
        BadLine{"supply.+ -> fuse.in : 25", ErrorKind::bad_quantity, 24, "25"},
        BadLine{"supply.+ -> fuse.in : pvc 5 kg", ErrorKind::bad_quantity, 28, "kg"},
        BadLine{"supply.+ -> fuse.in : 0 cm", ErrorKind::out_of_range, 24, "more than zero"},
        BadLine{"supply.+ -> fuse.in : RD BK", ErrorKind::ambiguous, 27, "already has its colour"},
        BadLine{"supply.+ -> fuse.in : 1mm2 2mm2", ErrorKind::ambiguous, 29, "already has its area"},
        BadLine{"supply.+ -> fuse.in : wire-1.0mm2 pvc", ErrorKind::ambiguous, 24, "also states area or insulation"},
        BadLine{"supply.+ -> fuse.in : bundel=a", ErrorKind::unknown_key, 24, "did you mean 'bundle'?"},
        BadLine{"supply.+ -> fuse.in : ends=glued", ErrorKind::unknown_name, 29, "'glued'"},
        BadLine{"supply.+ -> fuse.in : name=a.b", ErrorKind::out_of_range, 29, "cannot be a name"},
    };
    for (const BadLine& row : rows) {
        const Build build = with_line(row.line);
        ASSERT_EQ(build.design.errors.size(), 1U) << row.line << "\n" << to_text(build.design.errors);
        const InputError& error = build.design.errors[0];
        EXPECT_EQ(error.kind, row.kind) << row.line;
        EXPECT_EQ(error.place.line, 3U);
        EXPECT_EQ(error.place.column, row.column) << row.line << "\n" << to_text(build.design.errors);
        EXPECT_NE(to_text(build.design.errors).find(row.fragment), std::string::npos) << to_text(build.design.errors);
    }
}

struct BadTable {
    std::string_view keys;
    ErrorKind kind;
    std::string_view fragment;
};

TEST(WireTable, MistakesAreReportedWithAWayOut) {
    const std::array rows{
        BadTable{"to = \"fuse.in\"", ErrorKind::missing_key, "'from' is missing"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.inn\"", ErrorKind::unknown_name,
                 "13:12 the part 'fuse' has no terminal"},
        BadTable{"from = \"supply.+\"\nto = \"fus.in\"", ErrorKind::unknown_name, "13:7 there is no part 'fus'"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\ncolour = \"RDX\"", ErrorKind::unknown_name,
                 "did you mean 'RD'?"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\nlength = \"-5 cm\"", ErrorKind::out_of_range,
                 "more than zero"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\nlength = 5", ErrorKind::wrong_type, "with its unit"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\nuse = \"wire-1.0mm\"", ErrorKind::unknown_name,
                 "'wire-1.0mm2'"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\nuse = \"wire-1.0mm2\"\narea = \"1 mm2\"", ErrorKind::ambiguous,
                 "keep one"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\ninsulation = \"paper\"", ErrorKind::unknown_name, "paper"},
        BadTable{"from = \"supply.+\"\nto = \"fuse.in\"\nlenght = \"5 cm\"", ErrorKind::unknown_key,
                 "did you mean 'length'?"},
        BadTable{
            "from = \"supply.+\"\nto = \"fuse.in\"\nname = \"a\"\n[[wire]]\nfrom = \"supply.-\"\nto = \"fuse.out\"\n"
            "name = \"a\"",
            ErrorKind::duplicate_name, "two wires are called 'a'"},
        BadTable{
            "from = \"supply.+\"\nto = \"fuse.in\"\nname = \"W2\"\n[[wire]]\nfrom = \"supply.-\"\nto = \"fuse.out\"",
            ErrorKind::duplicate_name, "the name of an unnamed wire"},
    };
    for (const BadTable& row : rows) {
        const Build build{fmt::format("{}[[wire]]\n{}\n", design_start, row.keys)};
        ASSERT_EQ(build.design.errors.size(), 1U) << row.keys << "\n" << to_text(build.design.errors);
        EXPECT_EQ(build.design.errors[0].kind, row.kind) << row.keys;
        EXPECT_NE(to_text(build.design.errors).find(row.fragment), std::string::npos) << to_text(build.design.errors);
    }
}

TEST(WireTable, StatedClassesWinOverTheUsualOnes) {
    const Build build{
        fmt::format("{}[[wire]]\nfrom = \"supply.+\"\nto = \"fuse.in\"\narea = \"1 mm2\"\ninsulation = \"pvc\"\n"
                    "insulation_class = \"105 °C\"\nconductor_class = \"class 1\"\nbasis = \"datasheet\"\n"
                    "from_end = \"bare\"\n",
                    design_start)};
    ASSERT_TRUE(build.design) << to_text(build.design.errors);
    const Wire& wire = build.design.value->wires[0];
    EXPECT_DOUBLE_EQ(in_celsius(wire.made_of.insulation_class->range.lo), 105.0);
    EXPECT_EQ(wire.made_of.insulation_class->basis, Basis::datasheet);
    EXPECT_EQ(wire.made_of.conductor_class, "class 1");
    EXPECT_EQ(wire.from_end, WireEnd::bare);
}

// IEC 60757:2021 table 1 (letters partly from memory); GNYE is its one fixed combination.
TEST(Colour, LettersOfTheStandard) {
    for (const char* letters : {"BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR",
                                "GNYE", "RDBU", "BKWH", "YEBU"}) {
        EXPECT_TRUE(is_colour(letters)) << letters;
    }
    for (const char* letters : {"", "R", "rd", "RED", "RDRD", "YEGN", "BURD", "RDX", "XXYY", "RDBUWH"}) {
        EXPECT_FALSE(is_colour(letters)) << letters;
    }
}

} // namespace
} // namespace trivet
