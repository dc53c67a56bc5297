#include "electrical/fault_support.h"

#include <cmath>

// Several sources, converters, and networks that are no plain line. Expected currents are Ohm's law on the loop that
// each comment names.
namespace trivet {
namespace {

TEST_F(FaultTest, TwoSuppliesSideBySideAddUp) {
    limited_supply("first", volts(24.0), amperes(5.0, 6.0));
    limited_supply("second", volts(24.0), amperes(2.0, 3.0));
    const PartId fuse = blade("fuse", 4.0);
    builder_.heater("plate", ohms(9.6));
    const WireId from_first = wire("first.+ -> fuse.in", 0.01);
    wire("second.+ -> fuse.in", 0.01);
    const WireId out = wire("fuse.out -> plate.a", 0.05);
    const WireId back = wire("plate.b -> first.-", 0.05);
    const WireId link = wire("first.- -> second.-", 0.01);
    solve();
    EXPECT_DOUBLE_EQ(at(out).highest, 9.0);
    EXPECT_DOUBLE_EQ(at(out).lowest, 2.0); // the weaker one alone
    EXPECT_DOUBLE_EQ(at(back).highest, 9.0);
    EXPECT_EQ(at(out).fuse, branch(fuse));
    EXPECT_DOUBLE_EQ(at(link).highest, 3.0);       // only the second's current returns here
    EXPECT_DOUBLE_EQ(at(from_first).highest, 9.0); // its own, or the other's into a short at the first's terminal
    EXPECT_FALSE(at(from_first).fuse);
}

// Two 12 V batteries in series drive 24 V through both internal resistances.
TEST_F(FaultTest, BatteriesInSeriesAddTheirVoltages) {
    builder_.battery("upper", volts(12.0), ohms(0.05));
    builder_.battery("lower", volts(12.0), ohms(0.05));
    builder_.heater("plate", ohms(9.6));
    wire("upper.- -> lower.+", 0.0);
    wire("upper.+ -> plate.a", 0.0);
    const WireId back = wire("plate.b -> lower.-", 0.1);
    solve();
    EXPECT_NEAR(at(back).highest, 24.0 / 0.2, 1e-9);
    EXPECT_NEAR(at(back).lowest, 24.0 / (0.1 + 0.1 * warm), 1e-9);
}

class ConverterFaultTest : public FaultTest {
protected:
    void build(Perhaps<dim::current> limit) {
        builder_.battery("battery", volts(12.8), ohms(0.05));
        ConverterElement converter;
        converter.input = ends(0, 1);
        converter.output = ends(2, 3);
        converter.output_voltage = volts(5.0);
        converter.limit_current = limit;
        builder_.part("buck", {"in+", "in-", "out+", "out-"}, {converter});
        builder_.current_load("board", amperes(0.3));
        fuse_ = blade("fuse", 3.0);
        wire("battery.+ -> fuse.in", 0.0);
        feed_ = wire("fuse.out -> buck.in+", 0.02);
        wire("buck.in- -> battery.-", 0.03);
        out_ = wire("buck.out+ -> board.+", 0.05);
        back_ = wire("board.- -> buck.out-", 0.05);
        wire("buck.in- -> buck.out-", 0.0);
        solve();
    }
    PartId fuse_;
    WireId feed_;
    WireId out_;
    WireId back_;
};

// Behind a converter its own limit counts; before it only a short at its input, which its fuse sees.
TEST_F(ConverterFaultTest, OutputIsASourceOfItsOwn) {
    build(amperes(3.5, 4.5));
    EXPECT_NEAR(at(out_).highest, 4.5, 1e-12);
    EXPECT_NEAR(at(back_).highest, 4.5, 1e-12);
    EXPECT_NEAR(at(back_).lowest, 3.5, 1e-12);
    EXPECT_FALSE(at(out_).fuse);
    EXPECT_FALSE(at(out_).limit_unstated);
    EXPECT_FALSE(at(out_).unlimited);
    EXPECT_NEAR(at(feed_).highest, 12.8 / 0.07, 1e-9);
    EXPECT_EQ(at(feed_).fuse, branch(fuse_));
    EXPECT_TRUE(at(feed_).unlimited);
}

TEST_F(ConverterFaultTest, OutputWithoutStatedLimit) {
    build({});
    EXPECT_TRUE(at(out_).limit_unstated);
    EXPECT_NEAR(at(back_).highest, 5.0 / 0.1, 1e-9);
    EXPECT_FALSE(at(feed_).limit_unstated);
}

// A switch that is open in use may be closed, or stuck, when the short occurs.
TEST_F(FaultTest, SwitchesCountAsClosed) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    builder_.hand_switch("switch", ohms(0.01));
    builder_.heater("mat", ohms(3.0));
    builder_.transistor_module("low_side", ohms(0.02));
    wire("battery.+ -> switch.in", 0.0);
    const WireId out = wire("switch.out -> mat.a", 0.02);
    wire("mat.b -> low_side.a", 0.0);
    const WireId back = wire("low_side.b -> battery.-", 0.03);
    solve();
    EXPECT_NEAR(at(out).highest, 12.0 / (0.05 + 0.01 + 0.02), 1e-9);
    EXPECT_NEAR(at(back).highest, 12.0 / (0.05 + 0.01 + 0.02 + 0.02 + 0.03), 1e-9);
}

// Either of two parallel wires may be the one that is left: each is judged for the whole current.
TEST_F(FaultTest, ParallelWiresEachCarryTheWhole) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    const PartId fuse = blade("fuse", 10.0);
    builder_.heater("mat", ohms(3.0));
    wire("battery.+ -> fuse.in", 0.0);
    const WireId thick = wire("fuse.out -> mat.a", 0.01);
    const WireId thin = wire("fuse.out -> mat.a", 0.10);
    const WireId thick_back = wire("mat.b -> battery.-", 0.01);
    const WireId thin_back = wire("mat.b -> battery.-", 0.10);
    solve();
    EXPECT_NEAR(at(thick).highest, 12.0 / 0.06, 1e-9);
    EXPECT_NEAR(at(thin).highest, 12.0 / 0.15, 1e-9);
    EXPECT_NEAR(at(thick_back).highest, 12.0 / 0.07, 1e-9);
    EXPECT_NEAR(at(thin_back).highest, 12.0 / 0.16, 1e-9);
    for (const WireId each : {thick, thin, thick_back, thin_back}) EXPECT_EQ(at(each).fuse, branch(fuse));
}

// A return that closes a ring: both halves are seen although the shortest way takes only one.
TEST_F(FaultTest, RingOfReturnsIsSeenOnBothSides) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    builder_.heater("mat", ohms(3.0));
    builder_.part("clip", {"x"}, {});
    wire("battery.+ -> mat.a", 0.0);
    const WireId straight = wire("mat.b -> battery.-", 0.05);
    const WireId around = wire("mat.b -> clip.x", 0.10);
    const WireId on = wire("clip.x -> battery.-", 0.02);
    solve();
    EXPECT_NEAR(at(straight).highest, 12.0 / 0.10, 1e-9);
    EXPECT_NEAR(at(around).highest, 12.0 / 0.17, 1e-9);
    EXPECT_NEAR(at(on).highest, 12.0 / 0.17, 1e-9);
}

// A freewheel diode across a motor blocks; a series diode against reversed supply lets pass and takes its 0.7 V.
TEST_F(FaultTest, DiodesPassOneWay) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    builder_.diode("series", volts(0.7));
    builder_.current_load("motor", amperes(1.0));
    builder_.diode("freewheel", volts(0.7));
    wire("battery.+ -> series.a", 0.0);
    const WireId out = wire("series.k -> motor.+", 0.10);
    const WireId back = wire("motor.- -> battery.-", 0.10);
    wire("freewheel.k -> motor.+", 0.0);
    const WireId clamp = wire("freewheel.a -> motor.-", 0.0);
    solve();
    EXPECT_NEAR(at(out).highest, 12.0 / 0.15, 1e-9);
    EXPECT_NEAR(at(back).highest, 12.0 / 0.25, 1e-9);
    EXPECT_NEAR(at(back).lowest, 11.3 / (0.05 + 0.20 * warm), 1e-9);
    EXPECT_EQ(at(clamp).highest, 0.0);
}

// What lies behind a series resistor gets its small current, and does not lower what the fuse before it must stop.
TEST_F(FaultTest, ResistorsLimitWhatLiesBehindThem) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    const PartId fuse = blade("fuse", 5.0);
    builder_.resistor("series", ohms(1000.0));
    builder_.current_load("light", amperes(0.01));
    wire("battery.+ -> fuse.in", 0.0);
    wire("fuse.out -> series.a", 0.05);
    const WireId behind = wire("series.b -> light.+", 0.0);
    const WireId back = wire("light.- -> battery.-", 0.0);
    solve();
    EXPECT_NEAR(at(behind).highest, 12.0 / 1000.1, 1e-6);
    EXPECT_NEAR(at(back).highest, 12.0 / 1000.1, 1e-6);
    EXPECT_NEAR(at(fuse).lowest, 12.0 / (0.05 + 0.05 * warm), 1e-9);
}

// A pull-down of 10 kohm between plus and minus makes neither side the other.
TEST_F(FaultTest, PullDownDoesNotJoinTheSides) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    builder_.resistor("pull_down", ohms(10000.0));
    builder_.heater("mat", ohms(3.0));
    const WireId out = wire("battery.+ -> mat.a", 0.05);
    wire("mat.a -> pull_down.a", 0.0);
    const WireId idle = wire("pull_down.b -> battery.-", 0.0);
    const WireId back = wire("mat.b -> battery.-", 0.05);
    solve();
    EXPECT_NEAR(at(out).highest, 12.0 / 0.10, 1e-9);
    EXPECT_NEAR(at(back).lowest, 12.0 / (0.05 + 0.10 * warm), 1e-9);
    EXPECT_EQ(at(idle).highest, 0.0);
}

// A measuring resistor of 0.1 ohm belongs to the power path.
TEST_F(FaultTest, MeasuringResistorIsPartOfTheLine) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    builder_.heater("mat", ohms(3.0));
    builder_.resistor("shunt", ohms(0.1));
    wire("battery.+ -> mat.a", 0.0);
    wire("mat.b -> shunt.a", 0.0);
    const WireId back = wire("shunt.b -> battery.-", 0.0);
    solve();
    EXPECT_NEAR(at(back).highest, 12.0 / 0.15, 1e-9);
    EXPECT_NEAR(at(back).lowest, 12.0 / 0.15, 1e-9);
}

// A build that reverses its load over a change-over relay: with both throws closed at once plus meets minus.
TEST_F(FaultTest, BothThrowsOfAChangeOverClosed) {
    builder_.battery("battery", volts(12.0), ohms(0.05));
    const PartId fuse = blade("fuse", 5.0);
    builder_.relay("relay", ohms(100.0));
    builder_.current_load("motor", amperes(1.0));
    wire("battery.+ -> fuse.in", 0.0);
    wire("fuse.out -> relay.NO", 0.01);
    const WireId rest = wire("relay.NC -> battery.-", 0.01);
    wire("relay.COM -> motor.+", 0.01);
    wire("motor.- -> battery.-", 0.01);
    solve();
    EXPECT_GT(at(rest).highest, 12.0 / 0.2);
    EXPECT_EQ(at(rest).fuse, branch(fuse));
}

TEST_F(FaultTest, WiresWithoutSupplyCarryNothing) {
    builder_.heater("mat", ohms(3.0));
    builder_.heater("strap", ohms(3.0));
    const WireId idle = wire("mat.a -> strap.a", 0.01);
    solve();
    EXPECT_EQ(at(idle).highest, 0.0);
    EXPECT_EQ(at(idle).lowest, no_fuse);
    EXPECT_EQ(at(idle).operating_current, 0.0);
}

} // namespace
} // namespace trivet
