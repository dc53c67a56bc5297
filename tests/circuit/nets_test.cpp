#include "circuit/nets.h"

#include "support/circuit_of.h"

#include <gtest/gtest.h>

namespace trivet {
namespace {

std::string terminals_of(const Nets& nets, NetId net, const DesignBuilder& build) {
    std::string text;
    for (const TerminalRef ref : nets.terminals[net.value]) {
        if (!text.empty()) text += ' ';
        text += build.design().terminal_name(ref);
    }
    return text;
}

TEST(Nets, JoinThroughWiresAndInnerConductorsOnly) {
    DesignBuilder build;
    build.supply("supply", volts(12.0));
    build.part("connector", {"in", "out", "spare"}, {ConductorElement{ends(0, 1), ohms(0.01), {}}});
    build.fuse("fuse");
    build.heater("mat", ohms(6.0));
    build.wire("supply.+ -> connector.in", 0.5, 1.0);
    build.wire("connector.out -> fuse.in", 0.5, 1.0);
    build.wire("fuse.out -> mat.a", 0.5, 1.0);
    const Circuit circuit = circuit_of(build);
    const Nets nets = find_nets(circuit, build.design());
    const NetId before = nets.net(circuit, build.terminal("supply.+"));
    const NetId after = nets.net(circuit, build.terminal("mat.a"));
    EXPECT_EQ(terminals_of(nets, before, build), "supply.+ connector.in connector.out fuse.in");
    EXPECT_EQ(terminals_of(nets, after, build), "fuse.out mat.a");
    const std::vector<WireId> first_two{{0}, {1}};
    EXPECT_EQ(nets.wires[before.value], first_two);
    EXPECT_EQ(nets.wires[after.value], std::vector<WireId>{{2}});
}

TEST(Nets, ListWiredTerminalsOnlyAndEachOnce) {
    DesignBuilder build;
    build.part("bar", {"1", "2", "3"}, {ConductorElement{ends(0, 1), {}, {}}, ConductorElement{ends(1, 2), {}, {}}});
    build.heater("mat", ohms(6.0));
    build.wires({"bar.1 -> mat.a", "bar.1 -> mat.b"});
    const Circuit circuit = circuit_of(build);
    const Nets nets = find_nets(circuit, build.design());
    const NetId net = nets.net(circuit, build.terminal("bar.3"));
    EXPECT_EQ(net, nets.net(circuit, build.terminal("mat.b")));
    EXPECT_EQ(terminals_of(nets, net, build), "bar.1 mat.a mat.b");
}

TEST(Nets, UnwiredTerminalsHaveANetOfTheirOwn) {
    DesignBuilder build;
    build.heater("mat", ohms(6.0));
    const Circuit circuit = circuit_of(build);
    const Nets nets = find_nets(circuit, build.design());
    EXPECT_NE(nets.net(circuit, build.terminal("mat.a")), nets.net(circuit, build.terminal("mat.b")));
    for (const auto& terminals : nets.terminals) EXPECT_TRUE(terminals.empty());
}

} // namespace
} // namespace trivet
