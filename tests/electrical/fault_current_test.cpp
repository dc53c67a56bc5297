#include "electrical/fault_current.h"

#include "electrical/fault_support.h"

#include <cmath>

// Expected currents are Ohm's law on the loop that each comment names. Operating currents: blade fuses open from 1.35
// times their rating on (ISO 8820-3, from memory).
namespace trivet {
namespace {

TEST_F(FaultTest, StiffSourceOverItsOutgoingAndReturnWire) {
    builder_.supply("supply", volts(24.0));
    builder_.heater("plate", ohms(9.6));
    const WireId out = wire("supply.+ -> plate.a", 0.05);
    const WireId back = wire("plate.b -> supply.-", 0.05);
    solve();
    EXPECT_NEAR(at(back).highest, 24.0 / 0.1, 1e-9); // across the plate: both wires
    EXPECT_NEAR(at(back).lowest, 24.0 / (0.1 * warm), 1e-9);
    EXPECT_NEAR(at(out).highest, 24.0 / 0.05, 1e-9); // from the plate's terminal straight to minus
    EXPECT_NEAR(at(out).lowest, 24.0 / (0.1 * warm), 1e-9);
    EXPECT_EQ(at(out).operating_current, no_fuse);
    EXPECT_FALSE(at(out).fuse);
    EXPECT_TRUE(at(out).limit_unstated);
    EXPECT_FALSE(at(out).unlimited);
}

TEST_F(FaultTest, BatteryIsLimitedByItsOwnResistance) {
    builder_.battery("battery", volts(12.0, 12.8), ohms(0.05, 0.08));
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("battery.+ -> mat.a", 0.0);
    const WireId back = wire("mat.b -> battery.-", 0.0);
    solve();
    for (const WireId each : {out, back}) {
        EXPECT_NEAR(at(each).highest, 12.8 / 0.05, 1e-9);
        EXPECT_NEAR(at(each).lowest, 12.0 / 0.08, 1e-9);
        EXPECT_EQ(at(each).operating_current, no_fuse);
        EXPECT_TRUE(at(each).unlimited);
        EXPECT_FALSE(at(each).limit_unstated);
        EXPECT_EQ(at(each).let_through, 0.0);
    }
}

TEST_F(FaultTest, BatteryOfUnknownResistanceStatesNoLimit) {
    builder_.battery("battery", volts(12.8), {});
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("battery.+ -> mat.a", 0.01);
    wire("mat.b -> battery.-", 0.01);
    solve();
    EXPECT_TRUE(at(out).limit_unstated);
    EXPECT_TRUE(at(out).unlimited);
}

TEST_F(FaultTest, SupplyOfUnknownVoltageIsNotTakenForNone) {
    SourceElement source;
    source.between = ends(0, 1);
    source.limit_current = amperes(6.0);
    builder_.part("supply", {"+", "-"}, {source});
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("supply.+ -> mat.a", 0.01);
    wire("mat.b -> supply.-", 0.01);
    solve();
    EXPECT_TRUE(at(out).limit_unstated);
}

// A wire of no resistance on a stiff supply: 1 mohm stands for terminals and arc.
TEST_F(FaultTest, NoResistanceAtAllStaysFinite) {
    builder_.supply("supply", volts(5.0));
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("supply.+ -> mat.a", 0.0);
    wire("mat.b -> supply.-", 0.0);
    solve();
    EXPECT_NEAR(at(out).highest, 5000.0, 1e-6);
}

// A 24 V 5 A supply that limits itself at 5.25 to 7.5 A never gives the 13.5 A that a 10 A blade fuse needs.
TEST_F(FaultTest, SupplyTooSmallForItsFuse) {
    limited_supply("supply", volts(24.0), amperes(5.25, 7.5));
    const PartId fuse = blade("fuse", 10.0);
    builder_.heater("plate", ohms(9.6));
    wire("supply.+ -> fuse.in", 0.01);
    const WireId out = wire("fuse.out -> plate.a", 0.05);
    wire("plate.b -> supply.-", 0.05);
    solve();
    EXPECT_DOUBLE_EQ(at(fuse).highest, 7.5);
    EXPECT_DOUBLE_EQ(at(fuse).lowest, 5.25);
    EXPECT_NEAR(at(out).operating_current, 13.5, 1e-12);
    EXPECT_EQ(at(out).fuse, branch(fuse));
    EXPECT_EQ(at(out).let_through, 0.0);
    EXPECT_FALSE(at(out).limit_unstated);
}

// One industrial supply's manual: 15 A for opening fuses. That is enough for 13.5 A, but not within 5 s; 20 A is twice
// the rating, which opens within 5 s: 20² * 5 = 2000 A²s.
TEST_F(FaultTest, SupplyThatOpensItsFuse) {
    limited_supply("supply", volts(24.0), amperes(15.0, 18.0));
    const PartId fuse = blade("fuse", 10.0);
    builder_.heater("plate", ohms(2.4));
    wire("supply.+ -> fuse.in", 0.01);
    const WireId out = wire("fuse.out -> plate.a", 0.05);
    wire("plate.b -> supply.-", 0.05);
    solve();
    EXPECT_GE(at(fuse).lowest, at(fuse).operating_current);
    EXPECT_EQ(at(out).let_through, 0.0);

    auto stronger = std::get<SourceElement>(builder_.design().parts[0].part->elements[0].body);
    stronger.limit_current = amperes(15.0, 20.0);
    auto part = std::make_shared<Part>(*builder_.design().parts[0].part);
    part->elements[0].body = stronger;
    builder_.design().parts[0].part = part;
    solve();
    EXPECT_NEAR(at(out).let_through, 2000.0, 1e-9);
}

// Before the fuse a short meets no fuse; behind it and on the way back every short has passed it.
TEST_F(FaultTest, FuseInTheMiddleOfTheLine) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId fuse = blade("fuse", 5.0, 0.01);
    builder_.heater("mat", ohms(3.0));
    const WireId before = wire("battery.+ -> fuse.in", 0.01);
    const WireId behind = wire("fuse.out -> mat.a", 0.02);
    const WireId back = wire("mat.b -> battery.-", 0.03);
    solve();
    EXPECT_EQ(at(before).operating_current, no_fuse);
    EXPECT_FALSE(at(before).fuse);
    EXPECT_NEAR(at(before).highest, 12.8 / 0.06, 1e-9);
    EXPECT_NEAR(at(behind).highest, 12.8 / 0.09, 1e-9);
    EXPECT_NEAR(at(back).highest, 12.8 / 0.12, 1e-9);
    EXPECT_NEAR(at(fuse).highest, 12.8 / 0.07, 1e-9); // at its own outgoing terminal
    for (const WireId each : {behind, back}) {
        EXPECT_NEAR(at(each).operating_current, 6.75, 1e-12);
        EXPECT_EQ(at(each).fuse, branch(fuse));
    }
    // ISO 8820-3 (from memory): from six times 5 A on within 0.1 s, of which sheets make 0.15 s.
    EXPECT_NEAR(at(behind).let_through, std::pow(12.8 / 0.09, 2) * 0.15, 1e-6);
}

// Each branch has its own fuse; what they share on the way back is protected only by the larger one.
TEST_F(FaultTest, SharedReturnSeesTheLargerFuse) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId small = blade("small", 2.0);
    const PartId large = blade("large", 10.0);
    builder_.heater("strap", ohms(10.0));
    builder_.heater("mat", ohms(2.0));
    const WireId before_small = wire("battery.+ -> small.in", 0.01);
    wire("battery.+ -> large.in", 0.01);
    const WireId to_strap = wire("small.out -> strap.a", 0.10);
    const WireId to_mat = wire("large.out -> mat.a", 0.02);
    const WireId from_strap = wire("strap.b -> mat.b", 0.10);
    const WireId shared = wire("mat.b -> battery.-", 0.02);
    solve();
    EXPECT_EQ(at(before_small).operating_current, no_fuse);
    EXPECT_EQ(at(to_strap).fuse, branch(small));
    EXPECT_EQ(at(from_strap).fuse, branch(small));
    EXPECT_NEAR(at(from_strap).operating_current, 2.7, 1e-12);
    EXPECT_EQ(at(to_mat).fuse, branch(large));
    EXPECT_EQ(at(shared).fuse, branch(large));
    EXPECT_NEAR(at(shared).operating_current, 13.5, 1e-12);
    EXPECT_NEAR(at(shared).highest, 12.8 / 0.10, 1e-9);
    EXPECT_NEAR(at(from_strap).highest, 12.8 / 0.28, 1e-9);
}

// A weak short behind a small fuse is that fuse's business, not the main fuse's. The small fuse has 2 ohm.
TEST_F(FaultTest, LowestCurrentIsThatOfTheShortsAFuseMustStop) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId main = blade("main", 20.0);
    const PartId branch_fuse = blade("branch", 0.5, 2.0);
    builder_.heater("mat", ohms(1.0));
    builder_.current_load("fan", amperes(0.2));
    wire("battery.+ -> main.in", 0.0);
    wire("main.out -> mat.a", 0.05);
    wire("mat.b -> battery.-", 0.05);
    wire("main.out -> branch.in", 0.0);
    wire("branch.out -> fan.+", 0.1);
    wire("fan.- -> battery.-", 0.1);
    solve();
    EXPECT_NEAR(at(main).lowest, 12.8 / (0.05 + 0.1 * warm), 1e-9);
    EXPECT_NEAR(at(main).operating_current, 27.0, 1e-12);
    EXPECT_NEAR(at(branch_fuse).lowest, 12.8 / (2.05 + 0.2 * warm), 1e-9);
    EXPECT_NEAR(at(branch_fuse).operating_current, 0.675, 1e-12);
}

// A larger fuse behind a smaller one adds nothing.
TEST_F(FaultTest, TightestFuseInSeriesCounts) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId first = blade("first", 4.0);
    const PartId second = blade("second", 10.0);
    builder_.heater("mat", ohms(3.0));
    wire("battery.+ -> first.in", 0.01);
    wire("first.out -> second.in", 0.01);
    const WireId behind = wire("second.out -> mat.a", 0.01);
    wire("mat.b -> battery.-", 0.01);
    solve();
    EXPECT_EQ(at(behind).fuse, branch(first));
    EXPECT_EQ(at(second).fuse, branch(first));
    EXPECT_NEAR(at(second).operating_current, 5.4, 1e-12);
}

// A fuse whose rating nobody states is there but promises nothing.
TEST_F(FaultTest, FuseOfUnknownRatingIsNamed) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId fuse = builder_.fuse("fuse");
    builder_.heater("mat", ohms(3.0));
    wire("battery.+ -> fuse.in", 0.01);
    const WireId behind = wire("fuse.out -> mat.a", 0.01);
    wire("mat.b -> battery.-", 0.01);
    solve();
    EXPECT_EQ(at(behind).operating_current, no_fuse);
    EXPECT_EQ(at(behind).fuse, branch(fuse));
    EXPECT_EQ(at(behind).let_through, 0.0);
}

// A fuse in the return does not see a short from the outgoing side to the other minus wire.
TEST_F(FaultTest, FuseInTheReturnProtectsOnlyTheReturn) {
    builder_.battery("battery", volts(12.8), ohms(0.05));
    const PartId fuse = blade("fuse", 5.0);
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("battery.+ -> mat.a", 0.01);
    const WireId back = wire("mat.b -> fuse.in", 0.01);
    wire("fuse.out -> battery.-", 0.01);
    solve();
    EXPECT_FALSE(at(out).fuse);
    EXPECT_EQ(at(back).fuse, branch(fuse));
}

} // namespace
} // namespace trivet
