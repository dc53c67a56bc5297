#include "protection/protection.h"

#include "support/design_builder.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

// The principle tested here: IEC 60335-1 clause 19.4 lets the control fail and asks whether a separate cut-out still
// limits the heat (from memory). Everything is decided on the wiring alone.

Circuit circuit_of(const DesignBuilder& build) { return build_circuit(build.design(), class_5_resistance); }

HeaterProtection only_heater(const DesignBuilder& build) {
    const auto all = judge_protection(circuit_of(build), build.design());
    EXPECT_EQ(all.size(), 1U);
    return all.front();
}

DesignBuilder simple_parts() {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.cutoff("cutoff");
    build.heater("plate", ohms(10.0));
    build.hand_switch("switch");
    return build;
}

void control(DesignBuilder& build, std::string_view senses, std::string_view drives) {
    Control made;
    if (!senses.empty()) made.senses.push_back(build.part_called(senses));
    if (!drives.empty()) made.drives.push_back(build.part_called(drives));
    build.design().controls.push_back(made);
}

PartId self_resetting(DesignBuilder& build, const std::string& name, double opens_at = 353.15) {
    CutoffElement element;
    element.between = ends(0, 1);
    element.reset = CutoffReset::self;
    element.trip = {exactly(Temperature{opens_at}), {}, {}};
    return build.part(name, {"in", "out"}, {element});
}

TEST(Protection, CutoffInThePlusLeadIsIndependent) {
    DesignBuilder build = simple_parts();
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 1U);
    EXPECT_EQ(heater.independent(), 1U);
}

TEST(Protection, CutoffInTheReturnLeadInterruptsToo) {
    DesignBuilder build = simple_parts();
    build.wires({"supply.+ -> switch.in", "switch.out -> plate.a", "plate.b -> cutoff.in", "cutoff.out -> supply.-"});
    EXPECT_EQ(only_heater(build).independent(), 1U);
}

TEST(Protection, BypassedCutoffDoesNotCount) {
    DesignBuilder build = simple_parts();
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "supply.+ -> switch.in", "switch.out -> plate.a",
                 "plate.b -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 0U);
    ASSERT_TRUE(heater.cutoffs.front().fault);
    EXPECT_EQ(*heater.cutoffs.front().fault, CutoffFault::bypassed);
}

TEST(Protection, CutoffInTheCoilCircuitIsDefeatedByAWeldedContact) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.cutoff("cutoff");
    build.heater("plate", ohms(10.0));
    const PartId relay = build.relay("relay", ohms(600.0));
    build.wires({"supply.+ -> relay.COM", "relay.NO -> plate.a", "plate.b -> supply.-", "supply.+ -> cutoff.in",
                 "cutoff.out -> relay.1", "relay.2 -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 0U);
    ASSERT_TRUE(heater.cutoffs.front().fault);
    EXPECT_EQ(*heater.cutoffs.front().fault, CutoffFault::drive_circuit);
    EXPECT_EQ(heater.cutoffs.front().other, relay);
}

TEST(Protection, CutoffOfAnotherCircuitDoesNotCount) {
    DesignBuilder build = simple_parts();
    build.current_load("fan", amperes(0.1));
    build.wires({"supply.+ -> switch.in", "switch.out -> plate.a", "plate.b -> supply.-", "supply.+ -> cutoff.in",
                 "cutoff.out -> fan.+", "fan.- -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 0U);
    EXPECT_EQ(*heater.cutoffs.front().fault, CutoffFault::other_circuit);
}

TEST(Protection, OneCutoffForOneOfTwoParallelHeatersLeavesTheOtherUnprotected) {
    DesignBuilder build = simple_parts();
    build.heater("mat", ohms(20.0));
    build.wires({"supply.+ -> switch.in", "switch.out -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> supply.-",
                 "switch.out -> mat.a", "mat.b -> supply.-"});
    const auto heaters = judge_protection(circuit_of(build), build.design());
    ASSERT_EQ(heaters.size(), 2U);
    EXPECT_EQ(heaters[0].independent(), 1U);
    EXPECT_EQ(heaters[1].independent(), 0U);
}

TEST(Protection, ThermostatAloneIsTheControlAndCannotBackItselfUp) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    self_resetting(build, "thermostat");
    build.wires({"supply.+ -> thermostat.in", "thermostat.out -> plate.a", "plate.b -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 1U);
    EXPECT_EQ(heater.independent(), 0U);
    EXPECT_EQ(*heater.cutoffs.front().fault, CutoffFault::is_the_control);
}

TEST(Protection, OfTwoThermostatsTheOneThatOpensFirstIsTheControl) {
    for (const auto& [upstream, downstream, control] :
         {std::tuple{373.15, 333.15, 1U}, std::tuple{333.15, 373.15, 0U}}) {
        DesignBuilder build;
        build.supply("supply", volts(24.0));
        build.heater("plate", ohms(10.0));
        self_resetting(build, "upstream", upstream);
        self_resetting(build, "downstream", downstream);
        build.wires({"supply.+ -> upstream.in", "upstream.out -> downstream.in", "downstream.out -> plate.a",
                     "plate.b -> supply.-"});
        const HeaterProtection heater = only_heater(build);
        EXPECT_EQ(heater.cutoffs[control].fault, CutoffFault::is_the_control);
        EXPECT_EQ(heater.cutoffs[1U - control].fault, std::nullopt);
    }
}

TEST(Protection, AHandSwitchRegulatesNothingSoTheThermostatBehindItIsTheControl) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    build.hand_switch("switch");
    self_resetting(build, "thermostat");
    build.wires(
        {"supply.+ -> switch.in", "switch.out -> thermostat.in", "thermostat.out -> plate.a", "plate.b -> supply.-"});
    EXPECT_EQ(only_heater(build).cutoffs.front().fault, CutoffFault::is_the_control);
}

TEST(Protection, ASecondCutoffBacksAThermostatUp) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    self_resetting(build, "thermostat");
    build.cutoff("link");
    build.wires(
        {"supply.+ -> thermostat.in", "thermostat.out -> link.in", "link.out -> plate.a", "plate.b -> supply.-"});
    EXPECT_EQ(only_heater(build).independent(), 1U);
}

TEST(Protection, ACutoffThatAControlNamesIsNotIndependentOfIt) {
    DesignBuilder build = simple_parts();
    control(build, "cutoff", "switch");
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.interrupting(), 1U);
    EXPECT_EQ(heater.independent(), 0U);
}

TEST(Protection, ACutoffInsideTheSwitchingPartSharesItsFate) {
    DesignBuilder build;
    build.supply("supply", volts(24.0));
    build.heater("plate", ohms(10.0));
    ContactElement contact;
    contact.between = ends(0, 1);
    contact.by_hand = true;
    CutoffElement inside;
    inside.between = ends(1, 2);
    inside.reset = CutoffReset::one_shot;
    const PartId both = build.part("module", {"in", "mid", "out"}, {contact, inside});
    build.wires({"supply.+ -> module.in", "module.out -> plate.a", "plate.b -> supply.-"});
    const HeaterProtection heater = only_heater(build);
    EXPECT_EQ(heater.independent(), 0U);
    EXPECT_EQ(*heater.cutoffs.front().fault, CutoffFault::shares_part);
    EXPECT_EQ(heater.cutoffs.front().other, both);
}

TEST(Protection, TwoSuppliesNeedACutoffThatInterruptsBoth) {
    DesignBuilder build = simple_parts();
    build.supply("second", volts(24.0));
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "second.+ -> switch.in", "switch.out -> plate.a",
                 "plate.b -> supply.-", "plate.b -> second.-"});
    EXPECT_EQ(only_heater(build).interrupting(), 0U);
}

TEST(Protection, ACutoffUpstreamOfAConverterInterruptsTheHeaterBehindIt) {
    DesignBuilder build = simple_parts();
    build.converter("buck", Topology::step_down, volts(8.0, 30.0), volts(12.0), number(0.9));
    build.wires({"supply.+ -> cutoff.in", "cutoff.out -> buck.in+", "buck.in- -> supply.-", "buck.out+ -> switch.in",
                 "switch.out -> plate.a", "plate.b -> buck.out-"});
    EXPECT_EQ(only_heater(build).independent(), 1U);
}

} // namespace
} // namespace trivet
