#include "circuit/paths.h"

#include "support/circuit_of.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

// Ring of supply, fuse, cutoff, plate and switch; which conductor each is in stands in the wires of the test.
DesignBuilder usual_parts() {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.fuse("fuse");
    build.cutoff("cutoff");
    build.transistor_module("switch");
    build.heater("plate", ohms(9.6));
    return build;
}

struct Asked {
    const DesignBuilder& build;
    Circuit circuit = circuit_of(build);

    BranchId branch(std::string_view name, std::size_t nth = 0) const { return branch_of(circuit, build, name, nth); }
    // Parts only: that the wires beside them interrupt too is another test.
    std::string interrupters(std::string_view name, std::size_t nth = 0) const {
        auto found = interrupters_of(circuit, branch(name, nth));
        std::erase_if(found, [&](BranchId id) { return circuit.branches[id.value].kind == BranchKind::wire; });
        return names_of(found, circuit, build);
    }
    std::string feeders(std::string_view name) const {
        return names_of(feeders_of(circuit, branch(name)), circuit, build);
    }
};

TEST(Interrupters, AreEverythingInASingleRingWiresIncluded) {
    DesignBuilder build = usual_parts();
    build.wires({"supply.+ -> fuse.in", "fuse.out -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> switch.a",
                 "switch.b -> supply.-"});
    const Asked asked{build};
    EXPECT_EQ(names_of(interrupters_of(asked.circuit, asked.branch("plate")), asked.circuit, build),
              "fuse cutoff switch W1 W2 W3 W4 W5");
}

TEST(Interrupters, CountInEitherConductorAndWithTheSwitchOnEitherSide) {
    DesignBuilder low_side = usual_parts();
    low_side.wires({"supply.+ -> fuse.in", "fuse.out -> plate.a", "plate.b -> cutoff.in", "cutoff.out -> switch.a",
                    "switch.b -> supply.-"});
    EXPECT_EQ(Asked{low_side}.interrupters("plate"), "fuse cutoff switch");
    DesignBuilder high_side = usual_parts();
    high_side.wires({"supply.+ -> fuse.in", "fuse.out -> switch.a", "switch.b -> plate.a", "plate.b -> cutoff.in",
                     "cutoff.out -> supply.-"});
    EXPECT_EQ(Asked{high_side}.interrupters("plate"), "fuse cutoff switch");
}

// A thermostat in the coil's circuit opens the heater only as long as the relay's contact does not weld.
TEST(Interrupters, ACutoffInTheCoilCircuitIsNone) {
    DesignBuilder build = usual_parts();
    build.relay("relay", ohms(400.0));
    build.wires({"supply.+ -> fuse.in", "fuse.out -> relay.COM", "relay.NO -> plate.a", "plate.b -> supply.-",
                 "fuse.out -> cutoff.in", "cutoff.out -> relay.1", "relay.2 -> supply.-"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "fuse relay");
    EXPECT_EQ(asked.interrupters("relay"), "fuse cutoff"); // its coil
    EXPECT_FALSE(shares_loop(asked.circuit, asked.branch("plate"), asked.branch("cutoff")));
}

TEST(Interrupters, OfTwoSuppliesInParallelOnlyWhatBothPass) {
    DesignBuilder build = usual_parts();
    build.supply("second", volts(24.0));
    build.wires({"supply.+ -> fuse.in", "fuse.out -> plate.a", "second.+ -> plate.a", "plate.b -> cutoff.in",
                 "cutoff.out -> supply.-", "second.- -> supply.-"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "cutoff");
    EXPECT_EQ(asked.feeders("plate"), "supply second");
}

TEST(Interrupters, OfTwoHeatersInParallelEachHasItsOwn) {
    DesignBuilder build = usual_parts();
    build.heater("second_plate", ohms(9.6));
    build.wires({"supply.+ -> fuse.in", "fuse.out -> cutoff.in", "cutoff.out -> plate.a", "fuse.out -> second_plate.a",
                 "plate.b -> switch.a", "second_plate.b -> switch.a", "switch.b -> supply.-"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "fuse cutoff switch");
    EXPECT_EQ(asked.interrupters("second_plate"), "fuse switch");
}

TEST(Interrupters, AnOverrideAroundTheCutoffDefeatsIt) {
    DesignBuilder build = usual_parts();
    build.hand_switch("override");
    build.wires({"supply.+ -> fuse.in", "fuse.out -> cutoff.in", "cutoff.out -> plate.a", "fuse.out -> override.in",
                 "override.out -> plate.a", "plate.b -> switch.a", "switch.b -> supply.-"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "fuse switch");
    EXPECT_TRUE(shares_loop(asked.circuit, asked.branch("plate"), asked.branch("cutoff")));
}

TEST(Interrupters, ASecondWayThroughAnotherPartDefeatsIt) {
    DesignBuilder build = usual_parts();
    build.part("terminal_block", {"1", "2", "3"}, {ConductorElement{ends(0, 1), {}, {}}});
    build.diode("feedback");
    build.wires({"supply.+ -> terminal_block.1", "terminal_block.2 -> cutoff.in", "cutoff.out -> plate.a",
                 "terminal_block.2 -> feedback.a", "feedback.k -> plate.a", "plate.b -> switch.a",
                 "switch.b -> supply.-"});
    EXPECT_EQ(Asked{build}.interrupters("plate"), "switch");
}

// The diode across a coil or plate makes a loop of its own, but no source is in it.
TEST(Interrupters, AFreewheelDiodeDoesNotDefeatThem) {
    DesignBuilder build = usual_parts();
    build.diode("clamp");
    build.wires({"supply.+ -> fuse.in", "fuse.out -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> switch.a",
                 "switch.b -> supply.-", "plate.b -> clamp.a", "clamp.k -> plate.a"});
    EXPECT_EQ(Asked{build}.interrupters("plate"), "fuse cutoff switch");
}

TEST(Interrupters, LoadsAndResistorsAreNoWayAround) {
    DesignBuilder build = usual_parts();
    build.resistor("lamp_resistor", ohms(1000.0));
    build.current_load("fan", amperes(0.1));
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> supply.-", "supply.+ -> lamp_resistor.a",
                 "lamp_resistor.b -> plate.a", "supply.+ -> fan.+", "fan.- -> plate.a"});
    EXPECT_EQ(Asked{build}.interrupters("plate"), "cutoff");
}

// A wire from the plate's low end straight to the return is the insulation fault that a low-side switch cannot bear.
TEST(Interrupters, AnEarthedLowEndBypassesALowSideSwitch) {
    DesignBuilder build = usual_parts();
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> switch.a", "switch.b -> supply.-",
                 "plate.b -> supply.-"});
    EXPECT_EQ(Asked{build}.interrupters("plate"), "cutoff");
}

TEST(Interrupters, BothContactsOfAChangeOverCountAsClosed) {
    DesignBuilder build = usual_parts();
    build.relay("relay", ohms(400.0));
    build.wires({"supply.+ -> relay.NO", "supply.+ -> relay.NC", "relay.COM -> plate.a", "plate.b -> supply.-"});
    EXPECT_EQ(Asked{build}.interrupters("plate"), "");
}

TEST(Interrupters, OfAHeaterBehindAConverterIncludeWhatFeedsTheConverter) {
    for (const Topology topology : {Topology::step_down, Topology::isolated}) {
        DesignBuilder build = usual_parts();
        build.converter("buck", topology, volts(9.0, 36.0), volts(12.0), number(0.9));
        build.wires({"supply.+ -> fuse.in", "fuse.out -> cutoff.in", "cutoff.out -> buck.in+", "buck.in- -> supply.-",
                     "buck.out+ -> plate.a", "plate.b -> switch.a", "switch.b -> buck.out-"});
        if (topology == Topology::step_down) build.wires({"buck.out- -> buck.in-"});
        const Asked asked{build};
        EXPECT_EQ(asked.interrupters("plate"), "fuse cutoff switch");
        EXPECT_EQ(asked.interrupters("buck"), "fuse cutoff");
        EXPECT_EQ(asked.feeders("plate"), "buck");
        EXPECT_EQ(asked.feeders("buck"), "supply");
    }
}

TEST(Interrupters, OfAHeaterBesideAConverterAreNotThoseOfTheConverter) {
    DesignBuilder build = usual_parts();
    build.converter("buck", Topology::step_down, volts(9.0, 36.0), volts(5.0), number(0.9));
    build.current_load("board", amperes(0.2));
    build.wires({"supply.+ -> fuse.in", "fuse.out -> plate.a", "plate.b -> switch.a", "switch.b -> supply.-",
                 "fuse.out -> cutoff.in", "cutoff.out -> buck.in+", "buck.in- -> supply.-", "buck.out+ -> board.+",
                 "board.- -> buck.out-", "buck.out- -> buck.in-"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "fuse switch");
    EXPECT_EQ(asked.interrupters("board"), "fuse cutoff");
    EXPECT_EQ(asked.feeders("board"), "buck");
}

TEST(Interrupters, AreNoneWhereNothingIsFed) {
    DesignBuilder build = usual_parts();
    build.wires({"supply.+ -> fuse.in", "fuse.out -> plate.a", "plate.b -> cutoff.in"});
    const Asked asked{build};
    EXPECT_EQ(asked.interrupters("plate"), "");
    EXPECT_FALSE(is_fed(asked.circuit, asked.branch("plate")));
    EXPECT_FALSE(shares_loop(asked.circuit, asked.branch("plate"), asked.branch("fuse")));
    EXPECT_EQ(asked.feeders("plate"), "");
}

TEST(IsFed, NeedsBothEndsOnOneSupply) {
    DesignBuilder build = usual_parts();
    build.supply("other", volts(5.0));
    build.heater("mat", ohms(6.0));
    build.heater("shorted", ohms(6.0));
    build.wires({"supply.+ -> plate.a", "plate.b -> supply.-", // both ends
                 "supply.+ -> mat.a", "mat.b -> other.-",      // two supplies that share nothing
                 "supply.+ -> shorted.a", "supply.+ -> shorted.b"});
    const Asked asked{build};
    EXPECT_TRUE(is_fed(asked.circuit, asked.branch("plate")));
    EXPECT_FALSE(is_fed(asked.circuit, asked.branch("mat")));
    EXPECT_FALSE(is_fed(asked.circuit, asked.branch("shorted")));
}

TEST(IsFed, AcceptsAnOpenSwitchAndReversedPolarity) {
    DesignBuilder build = usual_parts();
    build.hand_switch("main_switch");
    build.current_load("fan", amperes(0.1));
    build.wires({"supply.+ -> main_switch.in", "main_switch.out -> fan.-", "fan.+ -> supply.-"});
    const Asked asked{build};
    EXPECT_TRUE(is_fed(asked.circuit, asked.branch("fan")));
    EXPECT_EQ(asked.feeders("fan"), "supply");
}

TEST(Feeders, AreNotFoundAcrossAnotherSupply) {
    DesignBuilder build = usual_parts();
    build.battery("first", volts(6.0), ohms(0.02));
    build.battery("second", volts(6.0), ohms(0.02));
    build.wires({"first.+ -> plate.a", "first.- -> second.+", "second.- -> plate.b"});
    const Asked asked{build};
    EXPECT_TRUE(is_fed(asked.circuit, asked.branch("plate")));
    EXPECT_EQ(asked.feeders("plate"), ""); // neither gives the plate's voltage alone
}

Branch of_kind(BranchKind kind) {
    Branch branch;
    branch.kind = kind;
    return branch;
}

TEST(CarriesPower, IsEverythingHeaterCurrentMayPass) {
    using enum BranchKind;
    for (const BranchKind kind : {source, fuse, cutoff, contact, transistor, converter, conductor, diode, wire})
        EXPECT_TRUE(carries_power(of_kind(kind)));
    for (const BranchKind kind : {coil, heater, load, resistor, thermistor}) EXPECT_FALSE(carries_power(of_kind(kind)));
}

} // namespace
} // namespace trivet
