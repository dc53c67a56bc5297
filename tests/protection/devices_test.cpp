#include "protection/devices.h"

#include "circuit/paths.h"
#include "protection/protection.h"
#include "protection/random_circuit.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace trivet {
namespace {

using Mask = std::uint64_t;

struct Loops {
    std::vector<Mask> devices; // of each loop: those it passes while they could be open
    std::vector<std::vector<BranchId>> branches;

    bool left_without(Mask opened) const {
        return std::ranges::any_of(devices, [&](Mask mask) { return (mask & opened) == 0; });
    }
};

Loops loops_of(const Circuit& circuit, BranchId heater, const std::vector<Device>& devices) {
    std::vector<Mask> device_of(circuit.branches.size());
    for (std::size_t i = 0; i < devices.size(); ++i)
        for (const BranchId id : devices[i].opens) device_of[id.value] |= Mask{1} << i;
    Loops loops;
    const Branch& asked = circuit.branches[heater.value];
    EveryLoop(circuit).visit(EveryLoop::edges_of(circuit), circuit.node_count, asked.from.value, asked.to.value,
                             [&](const std::vector<BranchId>& passed) {
                                 Mask mask = 0;
                                 for (const BranchId id : passed) mask |= device_of[id.value];
                                 loops.devices.push_back(mask);
                                 loops.branches.push_back(passed);
                             });
    return loops;
}

std::vector<BranchId> opened_by(const Device& a, const Device& b) {
    std::vector<BranchId> opened = a.opens;
    opened.insert(opened.end(), b.opens.begin(), b.opens.end());
    return opened;
}

void compare_with_all_loops(const Circuit& circuit, const Design& design, const HeaterDevices& heater) {
    const std::vector<Device> devices = devices_of(circuit);
    const Loops loops = loops_of(circuit, heater.heater, devices);
    ASSERT_EQ(heater.fed, loops.left_without(0));
    std::vector<std::vector<BranchId>> expected;
    for (std::size_t i = 0; i < devices.size(); ++i) {
        const bool cut = heater.fed && !loops.left_without(Mask{1} << i);
        if (cut) expected.push_back(devices[i].opens);
        for (std::size_t j = i + 1; j < devices.size(); ++j)
            ASSERT_EQ(stays_fed(circuit, heater.heater, opened_by(devices[i], devices[j])),
                      loops.left_without(Mask{1} << i | Mask{1} << j));
    }
    std::vector<std::vector<BranchId>> found;
    for (const Device& device : heater.devices) found.push_back(device.opens);
    ASSERT_EQ(found, expected);
    for (const BranchId id : interrupters_of(circuit, heater.heater))
        for (const auto& loop : loops.branches) ASSERT_NE(std::ranges::find(loop, id), loop.end());
    for (const HeaterProtection& judged : judge_protection(circuit, design)) {
        for (const CutoffVerdict& verdict : judged.cutoffs) {
            if (judged.heater != heater.heater || verdict.interrupts) continue;
            ASSERT_EQ(verdict.fault == CutoffFault::bypassed, shares_loop(circuit, judged.heater, verdict.cutoff));
        }
    }
}

// Independent recomputation: every way through 1 000 circuits is tried, with each device and each pair open.
TEST(Devices, AgreeWithTryingEveryWayOnRandomCircuits) {
    std::mt19937 random(20240611);
    std::size_t fed = 0;
    std::size_t with_devices = 0;
    for (int i = 0; i < 1000; ++i) {
        const RandomCircuit made(random);
        const Circuit circuit = circuit_of(made.build);
        for (const HeaterDevices& heater : devices_that_interrupt(circuit)) {
            compare_with_all_loops(circuit, made.build.design(), heater);
            if (testing::Test::HasFatalFailure())
                FAIL() << "circuit " << i << '\n' << to_text(circuit, made.build.design());
            fed += heater.fed ? 1 : 0;
            with_devices += heater.devices.empty() ? 0 : 1;
        }
    }
    EXPECT_GT(fed, 400U) << "too few circuits that heat: the comparison says little";
    EXPECT_GT(with_devices, 150U);
}

struct Row {
    const char* what;
    std::vector<std::string_view> wires;
    std::string_view devices; // of the first heater
};

std::string names(const std::vector<Device>& devices, const Circuit& circuit, const DesignBuilder& build) {
    std::string text;
    for (const Device& device : devices) {
        if (!text.empty()) text += ' ';
        text += device.driver ? circuit.drivers[device.driver->value].name
                              : build.design().part(circuit.branches[device.opens.front().value].part).name;
        if (device.driver && device.opens_when_on) text += "(on)";
    }
    return text;
}

// Facts of wiring, decided by hand.
TEST(Devices, ThatInterruptInUsualAndOddWirings) {
    const std::vector<Row> rows{
        {"both conductors",
         {"supply.+ -> fuse.in", "fuse.out -> plate.a", "plate.b -> cutoff.in", "cutoff.out -> supply.-"},
         "fuse cutoff"},
        {"two poles in the leads of two supplies",
         {"supply.+ -> poles.A", "poles.B -> plate.a", "second.+ -> poles.C", "poles.D -> plate.a",
          "plate.b -> supply.-", "plate.b -> second.-"},
         "poles"},
        {"parallel contacts of one relay",
         {"supply.+ -> poles.A", "poles.B -> plate.a", "supply.+ -> poles.C", "poles.D -> plate.a",
          "plate.b -> supply.-"},
         "poles"},
        {"parallel switches of two hands",
         {"supply.+ -> hand.in", "hand.out -> plate.a", "supply.+ -> other.in", "other.out -> plate.a",
          "plate.b -> supply.-"},
         ""},
        {"the resting side of a change-over contact",
         {"supply.+ -> relay.COM", "relay.NC -> plate.a", "plate.b -> supply.-"},
         "relay(on)"},
        {"both sides of a change-over contact",
         {"supply.+ -> relay.COM", "relay.NC -> plate.a", "relay.NO -> plate.a", "plate.b -> supply.-"},
         ""},
        {"high side and low side",
         {"supply.+ -> hand.in", "hand.out -> plate.a", "plate.b -> other.in", "other.out -> supply.-"},
         "hand other"},
        {"a heater nobody can switch", {"supply.+ -> plate.a", "plate.b -> supply.-"}, ""},
        {"a cutoff wired to nothing", {"supply.+ -> plate.a", "plate.b -> supply.-", "cutoff.in -> fuse.in"}, ""},
        {"parts in parallel with themselves",
         {"supply.+ -> cutoff.in", "cutoff.in -> cutoff.out", "cutoff.out -> plate.a", "plate.b -> supply.-"},
         ""},
        {"a heater in parallel with itself",
         {"supply.+ -> cutoff.in", "cutoff.out -> plate.a", "plate.a -> plate.b", "plate.b -> supply.-"},
         "cutoff"},
    };
    for (const Row& row : rows) {
        DesignBuilder build;
        build.supply("supply", volts(24.0));
        build.supply("second", volts(24.0));
        build.heater("plate", ohms(10.0));
        build.fuse("fuse");
        build.cutoff("cutoff");
        build.hand_switch("hand");
        build.hand_switch("other");
        build.relay("relay", ohms(100.0));
        ContactElement first;
        first.between = ends(0, 1);
        first.driven_by = "IN";
        ContactElement second = first;
        second.between = ends(2, 3);
        build.part("poles", {"A", "B", "C", "D", "IN"}, {first, second});
        for (const std::string_view wire : row.wires) build.wires({wire});
        const Circuit circuit = circuit_of(build);
        EXPECT_EQ(names(devices_that_interrupt(circuit).front().devices, circuit, build), row.devices) << row.what;
    }
}

} // namespace
} // namespace trivet
