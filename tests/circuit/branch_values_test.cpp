#include "circuit/branch_values.h"

#include "support/design_builder.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

struct Expected {
    std::string_view quantity;
    double lo = 0.0;
    double hi = 0.0;
    bool stated = true;
};

void expect_values(const ElementBody& body, const std::vector<Expected>& expected) {
    const BranchValues values = branch_values(body);
    ASSERT_EQ(values.count, expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        EXPECT_EQ(values.named[i].quantity, expected[i].quantity);
        EXPECT_NEAR(values.named[i].parameter.lo, expected[i].lo, 1e-9 * expected[i].lo);
        EXPECT_NEAR(values.named[i].parameter.hi, expected[i].hi, 1e-9 * expected[i].hi);
        EXPECT_EQ(values.named[i].parameter.stated, expected[i].stated) << expected[i].quantity;
    }
}

// Stand-ins for what nobody states: common practice, no source.
TEST(BranchValues, StandInsAreMarked) {
    SourceElement battery;
    battery.is_battery = true;
    const std::vector<Expected> contact{{"resistance", 0.0, 0.05, false}};
    expect_values(SourceElement{}, {{"voltage", 0.0, 0.0, false}, {"internal resistance", 0.0, 0.0, true}});
    expect_values(battery, {{"voltage", 0.0, 0.0, false}, {"internal resistance", 0.02, 0.02, false}});
    expect_values(FuseElement{}, {{"resistance", 0.0, 0.005, false}});
    expect_values(CutoffElement{}, contact);
    expect_values(ContactElement{}, contact);
    expect_values(TransistorElement{}, {{"on resistance", 0.01, 0.01, false}, {"on voltage", 0.0, 0.0, false}});
    expect_values(CoilElement{}, {{"resistance", 1e9, 1e9, false}});
    expect_values(ConverterElement{}, {{"output voltage", 5.0, 5.0, false},
                                       {"efficiency", 0.8, 0.95, false},
                                       {"quiescent current", 0.0, 0.02, false}});
    expect_values(HeaterElement{}, {{"resistance", 1e9, 1e9, false}});
    expect_values(DiodeElement{}, {{"forward voltage", 0.7, 0.7, false}});
    expect_values(ResistorElement{}, {{"resistance", 1e9, 1e9, false}});
    expect_values(ThermistorElement{}, {{"resistance", 1e9, 1e9, false}});
}

TEST(BranchValues, ElementsThatAreNoBranchHaveNone) {
    for (const ElementBody& body :
         {ElementBody{InputElement{}}, ElementBody{PinElement{}}, ElementBody{SignalElement{}},
          ElementBody{WireElement{}}, ElementBody{CapacitorElement{}}, ElementBody{MaterialElement{}}})
        EXPECT_EQ(branch_values(body).count, 0U);
}

TEST(BranchValues, LoadsGoByTheirBehaviour) {
    LoadElement load;
    load.current = amperes(0.07, 0.09);
    load.power = watts(2.0, 3.0);
    load.resistance = ohms(10.0, 12.0);
    load.start_factor = numbers(2.0, 4.0);
    LoadElement silent;
    const std::array stated{Expected{"current", 0.07, 0.09}, Expected{"power", 2.0, 3.0},
                            Expected{"resistance", 10.0, 12.0}};
    const std::array unstated{0.0, 0.0, 1e9};
    for (std::size_t i = 0; i < stated.size(); ++i) {
        load.behaviour = silent.behaviour = static_cast<LoadBehaviour>(i);
        expect_values(load, {stated[i]});
        expect_values(silent, {{stated[i].quantity, unstated[i], unstated[i], false}});
    }
    EXPECT_EQ(branch_values(load).start_factor, 4.0);
    EXPECT_EQ(branch_values(silent).start_factor, 1.0);
}

TEST(BranchValues, AFuseDropsFiftyMillivoltsAtItsRating) { // common practice, no source
    FuseElement fuse;
    fuse.rated_current = amperes(4.0);
    expect_values(fuse, {{"resistance", 0.0125, 0.0125, false}});
    fuse.resistance = ohms(0.015, 0.02);
    expect_values(fuse, {{"resistance", 0.015, 0.02}});
}

TEST(BranchValues, ATransistorIsAResistanceOrAFixedDrop) {
    TransistorElement transistor;
    transistor.on_resistance = ohms(0.01, 0.02);
    expect_values(transistor, {{"on resistance", 0.01, 0.02}, {"on voltage", 0.0, 0.0}});
    transistor.on_resistance.reset();
    transistor.on_voltage = volts(1.0, 1.6);
    expect_values(transistor, {{"on resistance", 0.0, 0.0}, {"on voltage", 1.0, 1.6}});
}

TEST(BranchValues, ACoilFollowsFromVoltageAndCurrent) {
    CoilElement coil;
    coil.voltage = volts(9.0, 15.0); // middle 12 V
    coil.current = amperes(0.024, 0.03);
    expect_values(coil, {{"resistance", 400.0, 500.0}});
    coil.current = amperes(0.0, 0.03);
    expect_values(coil, {{"resistance", 400.0, 1e9}});
    coil.resistance = ohms(360.0, 440.0);
    expect_values(coil, {{"resistance", 360.0, 440.0}});
}

HeaterElement heater(double lo, double hi, double per_kelvin, double working_celsius) {
    HeaterElement made;
    made.resistance = ohms(lo, hi);
    made.temperature_coefficient = given<dim::per_kelvin>(per_kelvin, per_kelvin);
    made.working_temperature = Given<dim::temperature>{exactly(celsius(working_celsius)), {}, {}};
    return made;
}

// R = R20 (1 + alpha (T - 20 °C)): the definition of the temperature coefficient.
TEST(BranchValues, AHeaterRunsFromColdToHot) {
    expect_values(heater(9.3, 9.7, 0.004, 100.0), {{"resistance", 9.3, 9.7 * 1.32}});
    expect_values(heater(9.3, 9.7, -0.0005, 220.0), {{"resistance", 9.3 * 0.9, 9.7}});
    expect_values(heater(9.3, 9.7, 0.004, -10.0), {{"resistance", 9.3, 9.7}});
    expect_values(heater(9.3, 9.7, -0.02, 120.0), {{"resistance", 0.93, 9.7}});
    HeaterElement warm = heater(9.3, 9.7, 0.004, 100.0);
    warm.working_temperature.reset();
    warm.cold_factor = numbers(1.5, 3.0);
    expect_values(warm, {{"resistance", 9.3, 9.7}});
    EXPECT_EQ(branch_values(warm).start_factor, 3.0);
}

// R = V²/P (Joule): 24 V and 60 W are 9.6 ohm.
TEST(BranchValues, AHeaterFollowsFromRatedVoltageAndPower) {
    HeaterElement rated;
    rated.voltage = volts(22.0, 26.0);
    rated.power = watts(60.0);
    expect_values(rated, {{"resistance", 9.6, 9.6}});
    rated.power = watts(48.0, 72.0);
    expect_values(rated, {{"resistance", 8.0, 12.0}});
    rated.power = watts(0.0, 72.0);
    expect_values(rated, {{"resistance", 8.0, 1e9}});
    rated.power.reset();
    expect_values(rated, {{"resistance", 1e9, 1e9, false}});
}

TEST(BranchValues, ARatedPowerIsThatOfTheHotHeater) {
    HeaterElement rated = heater(1.0, 1.0, 0.004, 145.0); // hot over cold: 1.5
    rated.resistance.reset();
    rated.voltage = volts(24.0);
    rated.power = watts(60.0);
    expect_values(rated, {{"resistance", 6.4, 9.6}});
}

ThermistorElement bead() { // 10 kohm ±1 %, B 3950 K, -20 to 105 °C
    ThermistorElement made;
    made.curve = SensorCurve::ntc;
    made.resistance = ohms(9900.0, 10100.0);
    made.reference = Given<dim::temperature>{exactly(celsius(25.0)), {}, {}};
    made.beta = given<dim::temperature_difference>(3950.0, 3950.0);
    made.range = Given<dim::temperature>{{celsius(-20.0), celsius(105.0)}, {}, {}};
    return made;
}

void expect_resistance(const BranchValues& values, double lo, double hi) {
    ASSERT_EQ(values.count, 1U);
    EXPECT_NEAR(values.named[0].parameter.lo, lo, 1e-4 * lo);
    EXPECT_NEAR(values.named[0].parameter.hi, hi, 1e-4 * hi);
    EXPECT_TRUE(values.named[0].parameter.stated);
}

// R = R25 exp(B (1/T - 1/298.15 K)), the B equation by hand: 3950 K make 3.36206 times R25 at 0 °C, 0.53015 at 40 °C,
// 10.53847 at -20 °C and 0.0606416 at 105 °C.
TEST(BranchValues, ASensorInAirFollowsTheAirAndOnAHeaterItsWorkingRange) {
    const Range<dim::temperature> air{celsius(0.0), celsius(40.0)};
    expect_resistance(sensor_values(bead(), air, false), 9900.0 * 0.53015, 10100.0 * 3.36206);
    expect_resistance(sensor_values(bead(), air, true), 9900.0 * 0.0606416, 10100.0 * 10.53847);
    // Nothing is known of it below -20 °C.
    expect_resistance(sensor_values(bead(), {celsius(-40.0), celsius(40.0)}, false), 9900.0 * 0.53015,
                      10100.0 * 10.53847);
}

TEST(BranchValues, ASensorOfUnknownCurveHasItsStatedResistance) {
    const Range<dim::temperature> air{celsius(0.0), celsius(40.0)};
    ThermistorElement salvaged = bead();
    salvaged.beta.reset();
    expect_resistance(sensor_values(salvaged, air, true), 9900.0, 10100.0);
    expect_resistance(sensor_values(bead(), {celsius(-60.0), celsius(-40.0)}, false), 9900.0, 10100.0);
    salvaged.resistance.reset();
    EXPECT_FALSE(sensor_values(salvaged, air, true).named[0].parameter.stated);
}

TEST(WireResistance, GoesByLengthTableAndTemperature) { // IEC 60228 table 3: 1.5 mm², class 5, 13.3 ohm/km
    DesignBuilder build;
    build.supply("supply", volts(12.0));
    build.heater("mat", ohms(6.0));
    const WireId id = build.wire("supply.+ -> mat.a", 2.0, 1.5);
    Wire wire = build.design().wire(id);
    const double at_20 = 0.0133 * 2.0;
    Parameter cold_to_70 = wire_resistance(wire, build.design(), class_5_resistance);
    EXPECT_NEAR(cold_to_70.lo, at_20, 1e-12);
    EXPECT_NEAR(cold_to_70.hi, at_20 * 1.1965, 1e-12);
    // IEC 60228 annex A in its other form: 254.5 / (234.5 + T) corrects a value at T to 20 °C.
    EXPECT_NEAR(cold_to_70.hi / at_20, (234.5 + 70.0) / 254.5, 1e-4);
    EXPECT_TRUE(cold_to_70.stated);

    wire.length = given<dim::length>(1.0, 2.0);
    wire.made_of.insulation_class = Given<dim::temperature>{exactly(celsius(180.0)), {}, {}};
    wire.ambient = Stated<Range<dim::temperature>>{{celsius(-10.0), celsius(35.0)}, {}};
    cold_to_70 = wire_resistance(wire, build.design(), class_5_resistance);
    EXPECT_NEAR(cold_to_70.lo, 0.0133 * (1.0 - 0.00393 * 30.0), 1e-12);
    EXPECT_NEAR(cold_to_70.hi, 0.0266 * (1.0 + 0.00393 * 160.0), 1e-12);
}

TEST(WireResistance, IsNothingAndMarkedWhenLengthOrAreaIsUnknown) {
    DesignBuilder build;
    build.supply("supply", volts(12.0));
    const WireId no_area = build.wire("supply.+ -> supply.-", given<dim::length>(1.0, 1.0));
    const WireId no_length = build.wire("supply.+ -> supply.-", {}, given<dim::area>(1e-6, 1e-6));
    const WireId no_row = build.wire("supply.+ -> supply.-", 1.0, 1.1);
    for (const WireId id : {no_area, no_length, no_row}) {
        const Parameter unknown = wire_resistance(build.design().wire(id), build.design(), class_5_resistance);
        EXPECT_EQ(unknown.lo, 0.0);
        EXPECT_EQ(unknown.hi, 0.0);
        EXPECT_FALSE(unknown.stated);
    }
}

} // namespace
} // namespace trivet
