#include "protection/breaches.h"

#include "circuit/paths.h"
#include "protection/bench_parts.h"
#include "protection/random_circuit.h"
#include "protection/working_cutoffs.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <tuple>

namespace trivet {
namespace {

// Points that faults have made one; small and slow on purpose.
struct Points {
    std::vector<std::uint32_t> name;

    explicit Points(std::uint32_t nodes)
        : name(nodes) {
        std::iota(name.begin(), name.end(), 0U);
    }
    void join(NodeId a, NodeId b) {
        const std::uint32_t old = name[b.value];
        const std::uint32_t made = name[a.value];
        std::ranges::replace(name, old, made);
    }
};

struct Question {
    BranchId heater;
    std::optional<PartId> shorted;
    std::optional<InsulationFault> insulation;
    bool past_switches = false;
};

// Answers one question by trying every way through the circuit.
class TryingEveryWay {
public:
    TryingEveryWay(const Traced& traced, const WorkingCutoffs& cutoffs)
        : traced_(traced)
        , cutoffs_(cutoffs) {}

    bool conducts(const Question& question, BranchId id) const {
        const Branch& branch = traced_.circuit.branches[id.value];
        if (cutoffs_.is_working(id)) return false;
        if (!question.past_switches) return true;
        if (cutoffs_.regulates(id)) return false;
        return !branch.driver || (traced_.off.on[branch.driver->value] != 0) != branch.rests_closed;
    }

    bool is_breach(const Question& question) const {
        const Circuit& circuit = traced_.circuit;
        Points points(circuit.node_count);
        for (std::uint32_t i = 0; question.shorted && i < circuit.branches.size(); ++i) {
            const Branch& branch = circuit.branches[i];
            if (branch.kind == BranchKind::wire || branch.part != *question.shorted) continue;
            if (branch.kind == BranchKind::source || branch.kind == BranchKind::converter) continue;
            if (carries_power(branch) && conducts(question, {i})) continue;
            points.join(branch.from, branch.to);
        }
        if (question.insulation) points.join(question.insulation->at, question.insulation->metal);
        std::vector<EveryLoop::Edge> edges;
        for (const auto& [a, b, id] : EveryLoop::edges_of(circuit))
            if (conducts(question, id)) edges.emplace_back(points.name[a], points.name[b], id);
        const Branch& heater = circuit.branches[question.heater.value];
        EveryLoop loops(circuit);
        bool found = false;
        loops.visit(edges, circuit.node_count, points.name[heater.from.value], points.name[heater.to.value],
                    [&](const std::vector<BranchId>&) {
                        found = true;
                        loops.stop();
                    });
        return found;
    }

private:
    const Traced& traced_;
    const WorkingCutoffs& cutoffs_;
};

using Key = std::tuple<BranchId, bool, std::uint32_t, std::uint32_t, std::uint32_t>;
constexpr std::uint32_t nothing = 0xffffffff;

Key key(BranchId heater, bool past_switches, std::optional<PartId> shorted,
        const std::optional<InsulationFault>& insulation) {
    return {heater, past_switches, shorted ? shorted->value : nothing, insulation ? insulation->at.value : nothing,
            insulation ? insulation->metal.value : nothing};
}

// Whether `smaller` asks for no more faults than `key` and gives at least as much.
bool covers(const Key& smaller, const Key& key) {
    const auto& [heater, past, part, at, metal] = smaller;
    return heater == std::get<0>(key) && (past || !std::get<1>(key)) && (part == nothing || part == std::get<2>(key)) &&
           (at == nothing || (at == std::get<3>(key) && metal == std::get<4>(key)));
}

std::vector<Key> expected_breaches(const Traced& traced) {
    std::vector<Key> all;
    for (const auto& [heater, cutoffs] :
         working_cutoffs(traced.circuit, traced.design, traced.actuations, traced.off)) {
        const TryingEveryWay trying(traced, cutoffs);
        std::vector<std::optional<InsulationFault>> insulations{std::nullopt};
        for (const InsulationFault& fault : insulation_faults(traced.circuit, traced.design, heater))
            insulations.emplace_back(fault);
        std::vector<std::optional<PartId>> parts{std::nullopt};
        for (std::uint32_t i = 0; i < traced.design.parts.size(); ++i) parts.emplace_back(PartId{i});
        for (const bool past_switches : {true, false}) {
            for (const auto& part : parts) {
                bool has_working = false;
                for (std::uint32_t i = 0; i < traced.circuit.branches.size(); ++i)
                    has_working = has_working || (part && traced.circuit.branches[i].kind != BranchKind::wire &&
                                                  traced.circuit.branches[i].part == *part && cutoffs.is_working({i}));
                if (has_working && !past_switches) continue;
                for (const auto& insulation : insulations)
                    if (!(has_working && insulation) && trying.is_breach({heater, part, insulation, past_switches}))
                        all.push_back(key(heater, past_switches, part, insulation));
            }
        }
    }
    std::vector<Key> least;
    for (const Key& one : all)
        if (std::ranges::none_of(all, [&](const Key& other) { return other != one && covers(other, one); }))
            least.push_back(one);
    std::ranges::sort(least);
    return least;
}

// A way is what it says: it leads from one end of the heater (or from where faults join it) past a source to the other,
// over branches that hang together.
void expect_ways(const Traced& traced, const std::vector<Breach>& breaches) {
    for (const Breach& breach : breaches) {
        ASSERT_FALSE(breach.path.empty());
        EXPECT_TRUE(std::ranges::any_of(
            breach.path, [&](BranchId id) { return traced.circuit.branches[id.value].kind == BranchKind::source; }));
    }
}

void compare(std::uint32_t seed, int circuits, bool bonded, std::size_t at_least) {
    std::mt19937 random(seed);
    std::size_t count = 0;
    for (int i = 0; i < circuits; ++i) {
        RandomCircuit made(random);
        if (bonded) made.bond();
        const Traced traced(made.build);
        const auto breaches = find_breaches(traced.circuit, traced.design, traced.actuations, traced.off);
        expect_ways(traced, breaches);
        std::vector<Key> found;
        for (const Breach& b : breaches) found.push_back(key(b.heater, b.past_switches, b.shorted, b.insulation));
        std::ranges::sort(found);
        ASSERT_EQ(found, expected_breaches(traced)) << "circuit " << i << '\n'
                                                    << to_text(traced.circuit, made.build.design());
        count += found.size();
    }
    EXPECT_GT(count, at_least) << "too few breaches: the comparison says little";
}

// Independent recomputation: with each part shorted in turn, and with each insulation fault besides, every way is
// tried.
TEST(Breaches, AgreeWithTryingEveryWayOnRandomCircuits) { compare(20240612, 1000, false, 500); }
TEST(Breaches, AgreeWithTryingEveryWayPastBondedMetal) { compare(20240613, 250, true, 200); }

std::string text(const Traced& traced, const Breach& breach) {
    std::string line = traced.parts(std::vector{breach.heater}) + ":";
    if (breach.shorted) line += " " + traced.design.part(*breach.shorted).name + " shorted";
    if (breach.insulation) {
        const Branch& heater = traced.circuit.branches[breach.heater.value];
        line += breach.insulation->at == heater.from ? " end a" : " end b";
        line += " on " + traced.design.part(breach.insulation->owner).name;
    }
    if (breach.past_switches) line += " past switches";
    return line;
}

struct Row {
    const char* what;
    std::vector<std::string_view> wires;
    std::string_view bonded;
    std::vector<std::string> breaches;
};

DesignBuilder bench() {
    DesignBuilder build;
    add_logic(build);
    add_board(build, "other");
    build.heater("plate", ohms(10.0));
    build.heater("mat", ohms(20.0));
    build.hand_switch("switch");
    build.hand_switch("boost");
    build.cutoff("link");
    build.relay("relay", ohms(600.0));
    build.relay("guard", ohms(600.0));
    add_relay_module(build, "module");
    add_thermostat(build, "stat");
    build.current_load("fan", amperes(0.1));
    build.supply("second", volts(12.0));
    build.converter("up", Topology::step_up, volts(5.0, 13.0), volts(24.0), number(0.9));
    return build;
}

// IEC 60335-1 clause 19 asks whether a failed control still leaves a cut-out in the way (from memory); the ways
// themselves are decided by hand.
TEST(Breaches, OfUsualAndDangerousWirings) {
    const std::vector<Row> rows{
        {"a cutoff in the plus lead",
         {"supply.+ -> link.in", "link.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-"},
         "supply.-",
         {}},
        {"a cutoff in the return of a low-side switch, under a bonded plate",
         {"supply.+ -> plate.a", "plate.b -> switch.in", "switch.out -> link.in", "link.out -> supply.-"},
         "supply.-",
         {"plate: end b on plate past switches"}},
        {"the same with the plate floating",
         {"supply.+ -> plate.a", "plate.b -> switch.in", "switch.out -> link.in", "link.out -> supply.-"},
         "",
         {}},
        {"a high-side switch with the cutoff in the return, under a bonded plate",
         {"supply.+ -> switch.in", "switch.out -> plate.a", "plate.b -> link.in", "link.out -> supply.-"},
         "supply.-",
         {"plate: switch shorted end b on plate past switches", "plate: end b on plate"}},
        {"two heaters, one cutoff",
         {"supply.+ -> switch.in", "switch.out -> link.in", "link.out -> plate.a", "plate.b -> supply.-",
          "switch.out -> mat.a", "mat.b -> supply.-"},
         "",
         {"mat: switch shorted past switches", "mat:"}},
        {"an override around the cutoff",
         {"supply.+ -> switch.in", "switch.out -> link.in", "link.out -> plate.a", "supply.+ -> boost.in",
          "boost.out -> plate.a", "plate.b -> supply.-"},
         "",
         {"plate: boost shorted past switches", "plate:"}},
        {"a thermostat in the lead of the relay's coil",
         {"supply.+ -> relay.COM", "relay.NO -> plate.a", "plate.b -> supply.-", "supply.+ -> stat.in",
          "stat.out -> relay.1", "relay.2 -> supply.-"},
         "",
         {"plate: relay shorted past switches", "plate:"}},
        {"a second relay that only a cutoff commands",
         {"supply.+ -> guard.COM", "guard.NO -> module.A", "module.B -> plate.a", "plate.b -> supply.-",
          "board.IO1 -> module.IN", "supply.+ -> link.in", "link.out -> guard.1", "guard.2 -> supply.-"},
         "",
         {}},
        {"back-feed from a second supply past the cutoff",
         {"supply.+ -> link.in", "link.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-",
          "second.+ -> boost.in", "boost.out -> plate.a", "second.- -> supply.-"},
         "",
         {"plate:"}},
        {"back-feed through a converter",
         {"supply.+ -> link.in", "link.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-",
          "second.+ -> up.in+", "second.- -> up.in-", "up.in- -> supply.-", "up.out- -> supply.-",
          "up.out+ -> plate.a"},
         "",
         {"plate: switch shorted past switches", "plate:"}},
        {"a fan beside the cutoff that could be shorted",
         {"supply.+ -> link.in", "link.out -> plate.a", "plate.b -> switch.in", "switch.out -> supply.-",
          "supply.+ -> fan.+", "fan.- -> plate.a"},
         "",
         {"plate: fan shorted"}},
        {"a heater nobody can switch", {"supply.+ -> plate.a", "plate.b -> supply.-"}, "", {"plate: past switches"}},
        {"only a cutoff, which may fail",
         {"supply.+ -> link.in", "link.out -> plate.a", "plate.b -> supply.-"},
         "",
         {"plate: link shorted past switches"}},
        {"only a thermostat",
         {"supply.+ -> stat.in", "stat.out -> plate.a", "plate.b -> supply.-"},
         "",
         {"plate: stat shorted past switches", "plate:"}},
    };
    for (const Row& row : rows) {
        DesignBuilder build = bench();
        for (const std::string_view wire : row.wires) build.wires({wire});
        if (!row.bonded.empty())
            build.design().parts[build.part_called("plate").value].bonded_to = build.terminal(row.bonded);
        const Traced traced(build);
        std::vector<std::string> found;
        for (const Breach& breach : find_breaches(traced.circuit, traced.design, traced.actuations, traced.off))
            found.push_back(text(traced, breach));
        EXPECT_EQ(found, row.breaches) << row.what;
    }
}

TEST(Breaches, GiveTheWay) {
    DesignBuilder build = bench();
    build.wires({"supply.+ -> plate.a", "plate.b -> switch.in", "switch.out -> link.in", "link.out -> supply.-"});
    build.design().parts[build.part_called("plate").value].bonded_to = build.terminal("supply.-");
    const Traced traced(build);
    const auto breaches = find_breaches(traced.circuit, traced.design, traced.actuations, traced.off);
    ASSERT_EQ(breaches.size(), 1U);
    EXPECT_EQ(names_of(breaches.front().path, traced.circuit, build), "W5 supply");
}

TEST(Breaches, MetalThatAHeaterSitsOnCounts) {
    DesignBuilder build = bench();
    build.wires({"supply.+ -> plate.a", "plate.b -> switch.in", "switch.out -> link.in", "link.out -> supply.-"});
    auto& parts = build.design().parts;
    parts[build.part_called("fan").value].bonded_to = build.terminal("supply.-");
    EXPECT_TRUE(
        insulation_faults(circuit_of(build), build.design(), branch_of(circuit_of(build), build, "plate")).empty());
    parts[build.part_called("plate").value].mounted_on = build.part_called("fan");
    const auto faults =
        insulation_faults(circuit_of(build), build.design(), branch_of(circuit_of(build), build, "plate"));
    ASSERT_EQ(faults.size(), 2U);
    EXPECT_EQ(faults.front().owner, build.part_called("fan"));
}

} // namespace
} // namespace trivet
