#include "support/circuit_of.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

TEST(BuildCircuit, SourceFuseSwitchAndHeaterInARing) {
    DesignBuilder build;
    build.supply("supply", volts(23.5, 24.5));
    build.fuse("main_fuse", ohms(0.005, 0.01));
    build.transistor_module("heat_switch", ohms(0.02, 0.05));
    build.heater("plate", ohms(9.3, 9.7));
    build.wire("supply.+ -> main_fuse.in", 2.0, 1.0);
    build.wires({"main_fuse.out -> plate.a", "plate.b -> heat_switch.a", "heat_switch.b -> supply.-"});
    const Circuit circuit = circuit_of(build);
    EXPECT_EQ(to_text(circuit, build.design()), "source supply 0-1 [23.5..24.5] [0]\n"
                                                "fuse main_fuse 2-3 [0.005..0.01]\n"
                                                "transistor heat_switch 4-5 [0.02..0.05] [0] driven by heat_switch\n"
                                                "heater plate 9-10 [9.3..9.7]\n"
                                                "wire W1 0-2 [0.039..0.04666]\n"
                                                "wire W2 3-9 [0]\n"
                                                "wire W3 10-4 [0]\n"
                                                "wire W4 5-1 [0]\n");
}

TEST(BuildCircuit, ConductorsWithoutResistanceJoinTheirTerminals) {
    DesignBuilder build;
    ConductorElement track{ends(0, 1), {}, amperes(10.0)}; // a rating alone is no resistance
    ConductorElement contact{ends(2, 3), ohms(0.001, 0.005), amperes(10.0)};
    build.part("connector", {"1", "1'", "2", "2'"}, {track, contact});
    const Circuit circuit = circuit_of(build);
    EXPECT_EQ(circuit.node(build.terminal("connector.1")), circuit.node(build.terminal("connector.1'")));
    EXPECT_NE(circuit.node(build.terminal("connector.2")), circuit.node(build.terminal("connector.2'")));
    EXPECT_EQ(circuit.node_count, 3U);
    EXPECT_EQ(to_text(circuit, build.design()), "conductor connector 1-2 [0.001..0.005]\n");
}

TEST(BuildCircuit, ChainsOfConductorsJoinWhateverTheirOrder) {
    DesignBuilder build;
    build.part("bar", {"1", "2", "3", "4"},
               {ConductorElement{ends(2, 3), {}, {}}, ConductorElement{ends(0, 1), {}, {}},
                ConductorElement{ends(3, 0), {}, {}}});
    const Circuit circuit = circuit_of(build);
    EXPECT_EQ(circuit.node_count, 1U);
    EXPECT_TRUE(circuit.branches.empty());
}

TEST(BuildCircuit, PinsInputsAndSignalsAreNoBranches) {
    DesignBuilder build;
    build.part("board", {"IO4", "GND", "3V3"}, {PinElement{}, InputElement{}, SignalElement{}, WireElement{}});
    EXPECT_TRUE(circuit_of(build).branches.empty());
}

TEST(BuildCircuit, PartsThatNothingJoinsAreIslands) {
    DesignBuilder build;
    for (const std::string number : {"1", "2"}) {
        build.supply("supply" + number, volts(12.0));
        build.heater("mat" + number, ohms(6.0));
        build.wires({"supply" + number + ".+ -> mat" + number + ".a"});
    }
    const Circuit circuit = circuit_of(build);
    ASSERT_EQ(circuit.island_count, 2U);
    EXPECT_EQ(names_of(circuit.branches_of_island[0], circuit, build), "supply1 mat1 W1");
    EXPECT_EQ(names_of(circuit.branches_of_island[1], circuit, build), "supply2 mat2 W2");
    for (std::uint32_t wire = 0; wire < 2; ++wire)
        EXPECT_EQ(circuit.branches[circuit.wire_branch[wire].value].wire.value, wire);
}

TEST(BuildCircuit, AConverterBelongsToOneIslandWithBothItsSides) {
    DesignBuilder build;
    build.converter("buck", Topology::isolated, volts(9.0, 36.0), volts(5.0), numbers(0.8, 0.9), amperes(0.01));
    const Circuit circuit = circuit_of(build);
    EXPECT_EQ(circuit.island_count, 1U);
    EXPECT_EQ(to_text(circuit, build.design()), "converter buck 0-1 to 2-3 [5] [0.8..0.9] [0.01]\n");
}

// Fed at 5V, its own regulator from VIN to 5V would otherwise hold 5V at nothing, as if shorted.
TEST(BuildCircuit, ABoardFedBehindItsRegulatorDoesWithoutIt) {
    for (const std::string fed : {"VIN", "5V"}) {
        DesignBuilder build;
        ConverterElement regulator;
        regulator.input = ends(0, 2);
        regulator.output = ends(1, 2);
        build.part("board", {"VIN", "5V", "GND", "IO4"}, {regulator, PinElement{}});
        build.supply("supply", volts(5.0));
        build.wires({"supply.+ -> board." + fed, "board.GND -> supply.-"});
        EXPECT_EQ(to_text(circuit_of(build), build.design()).starts_with("converter board"), fed == "VIN") << fed;
    }
}

TEST(BuildCircuit, UnwiredTerminalsAreIslandsWithoutBranches) {
    DesignBuilder build;
    build.heater("plate", ohms(9.6));
    build.part("strip", {"1", "2"}, {});
    const Circuit circuit = circuit_of(build);
    ASSERT_EQ(circuit.island_count, 3U);
    EXPECT_TRUE(circuit.branches_of_island[1].empty());
    EXPECT_TRUE(circuit.branches_of_island[2].empty());
}

TEST(BuildCircuit, BothContactsOfAChangeOverAreOneDriver) {
    DesignBuilder build;
    build.relay("relay", ohms(400.0));
    const Circuit circuit = circuit_of(build);
    ASSERT_EQ(circuit.drivers.size(), 1U);
    EXPECT_EQ(circuit.drivers[0].name, "relay");
    EXPECT_EQ(circuit.drivers[0].driven_by, "coil");
    EXPECT_FALSE(circuit.drivers[0].by_hand);
    EXPECT_EQ(to_text(circuit, build.design()), "coil relay 0-1 [400]\n"
                                                "contact relay 2-3 [0..0.05?] driven by relay\n"
                                                "contact relay 2-4 [0..0.05?] driven by relay, rests closed\n");
}

TEST(BuildCircuit, DriversOfAPartWithSeveralAreNamedAfterTheirInputs) {
    DesignBuilder build;
    ContactElement first;
    first.between = ends(0, 1);
    first.driven_by = "IN1";
    ContactElement second = first;
    second.driven_by = "IN2";
    ContactElement hand = first;
    hand.driven_by = "";
    hand.by_hand = true;
    build.part("block", {"a", "b", "IN1", "IN2"}, {first, second, first, hand, hand});
    build.hand_switch("main_switch");
    const Circuit circuit = circuit_of(build);
    ASSERT_EQ(circuit.drivers.size(), 4U);
    EXPECT_EQ(circuit.drivers[0].name, "block.IN1");
    EXPECT_EQ(circuit.drivers[1].name, "block.IN2");
    EXPECT_EQ(circuit.drivers[2].name, "block.hand");
    EXPECT_EQ(circuit.drivers[3].name, "main_switch");
    EXPECT_TRUE(circuit.drivers[3].by_hand);
    EXPECT_EQ(circuit.branches[2].driver, circuit.branches[0].driver);
    EXPECT_EQ(circuit.branches[4].driver, circuit.branches[3].driver);
}

TEST(BuildCircuit, ParametersAreCalledByPartAndQuantity) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.current_load("fan", amperes(0.1, 0.2));
    HeaterElement half;
    half.between = ends(0, 1);
    build.part("mat", {"a", "b", "c"}, {half, HeaterElement{ends(1, 2), ohms(4.0), {}, {}, {}, {}, {}, {}}});
    build.wires({"supply.+ -> fan.+"});
    const Circuit circuit = circuit_of(build);
    const std::vector<std::string> expected{"supply voltage",        "supply internal resistance", "fan current",
                                            "mat heater resistance", "mat heater-2 resistance",    "W1 resistance"};
    EXPECT_EQ(circuit.parameter_names, expected);
    EXPECT_EQ(circuit.parameters.size(), expected.size());
    const Branch& wire = circuit.branches.back();
    EXPECT_EQ(wire.first_parameter, 5U);
    EXPECT_EQ(wire.parameters, 1U);
}

// IEC 60751: 100 ohm at 0 °C, 107.79 at 20 °C, 119.40 at 50 °C and 175.86 at 200 °C.
TEST(BuildCircuit, ASensorOnAHeaterMayHaveAnyResistanceOfItsWorkingRange) {
    ThermistorElement platinum;
    platinum.between = ends(0, 1);
    platinum.curve = SensorCurve::platinum;
    platinum.resistance = ohms(100.0);
    platinum.reference = Given<dim::temperature>{exactly(celsius(0.0)), {}, {}};
    platinum.range = Given<dim::temperature>{{celsius(0.0), celsius(200.0)}, {}, {}};
    DesignBuilder build;
    build.heater("mat", ohms(6.0));
    const PartId probe = build.part("probe", {"a", "b"}, {platinum});
    const auto highest = [&] { return circuit_of(build).parameters.back().hi; };
    EXPECT_NEAR(highest(), 107.79, 0.01);
    PartUse& use = build.design().parts[probe.value];
    use.ambient = Stated<Range<dim::temperature>>{{celsius(0.0), celsius(50.0)}, {}};
    EXPECT_NEAR(highest(), 119.40, 0.01);
    use.mounted_on_name = "mat";
    EXPECT_NEAR(highest(), 175.86, 0.01);
}

TEST(BuildCircuit, AnEmptyDesignIsAnEmptyCircuit) {
    const Circuit circuit = circuit_of(DesignBuilder{});
    EXPECT_EQ(circuit.node_count, 0U);
    EXPECT_EQ(circuit.island_count, 0U);
}

} // namespace
} // namespace trivet
