#include "electrical/fault_support.h"

#include <algorithm>
#include <random>
#include <vector>

// Independent recomputation: random trees of wires and fuses, every short walked by itself from the load back to the
// battery, in place of sums over the tree.
namespace trivet {
namespace {

struct Line {
    std::size_t parent = 0; // index of the joint it comes from; 0 is the battery
    double ohms = 0.0;
    double fuse = 0.0; // A, 0: none
    WireId wire;
    std::vector<double> currents; // of all shorts that pass it
    std::vector<double> operates; // of their tightest fuses
};

class RandomFaults : public FaultTest {
protected:
    // Joint i hangs on joint parent < i; lines[i] is what connects them.
    std::vector<Line> grow(const std::string& side, bool with_fuses, std::size_t count) {
        std::vector<Line> lines(count);
        for (std::size_t i = 1; i < count; ++i) {
            Line& line = lines[i];
            line.parent = std::uniform_int_distribution<std::size_t>(0, i - 1)(random_);
            line.ohms = std::uniform_real_distribution<double>(0.01, 0.2)(random_);
            const std::string from = line.parent == 0 ? "battery." + std::string(side == "out" ? "+" : "-")
                                                      : side + std::to_string(line.parent) + ".x";
            const std::string to = side + std::to_string(i);
            builder_.part(to, {"x"}, {});
            if (with_fuses && std::bernoulli_distribution(0.3)(random_)) {
                line.fuse = std::uniform_int_distribution<int>(1, 20)(random_);
                const std::string fuse = "fuse" + std::to_string(i);
                blade(fuse, line.fuse);
                line.wire = wire(from + " -> " + fuse + ".in", line.ohms);
                wire(fuse + ".out -> " + to + ".x", 0.0);
            } else {
                line.wire = wire(from + " -> " + to + ".x", line.ohms);
            }
        }
        return lines;
    }

    static std::vector<std::size_t> way(const std::vector<Line>& lines, std::size_t joint) {
        std::vector<std::size_t> passed;
        for (; joint != 0; joint = lines[joint].parent) passed.push_back(joint);
        return passed;
    }

    static double resistance(const std::vector<Line>& lines, std::size_t joint) {
        double sum = 0.0;
        for (const std::size_t i : way(lines, joint)) sum += lines[i].ohms;
        return sum;
    }

    static double tightest(const std::vector<Line>& lines, std::size_t joint) {
        double least = no_fuse;
        for (const std::size_t i : way(lines, joint))
            if (lines[i].fuse > 0.0) least = std::min(least, 1.35 * lines[i].fuse);
        return least;
    }

    static void pass(std::vector<Line>& lines, std::size_t joint, double current, double operates) {
        for (const std::size_t i : way(lines, joint)) {
            lines[i].currents.push_back(current);
            lines[i].operates.push_back(operates);
        }
    }

    // At the wire's own end before a fuse there is no fuse yet: that short is the wire's alone.
    static void pass_before_fuse(std::vector<Line>& lines, std::size_t joint, double current) {
        lines[joint].currents.push_back(current);
        lines[joint].operates.push_back(tightest(lines, lines[joint].parent));
        pass(lines, lines[joint].parent, current, tightest(lines, lines[joint].parent));
    }

    void expect(const std::vector<Line>& lines) const {
        for (std::size_t i = 1; i < lines.size(); ++i) {
            if (lines[i].currents.empty()) {
                EXPECT_EQ(at(lines[i].wire).highest, 0.0);
                continue;
            }
            EXPECT_NEAR(at(lines[i].wire).highest, *std::ranges::max_element(lines[i].currents), 1e-9);
            EXPECT_DOUBLE_EQ(at(lines[i].wire).operating_current, *std::ranges::max_element(lines[i].operates));
        }
    }

    std::mt19937 random_{20240917};
};

TEST_F(RandomFaults, AgreeWithEveryShortWalkedByItself) {
    for (int round = 0; round < 40; ++round) {
        builder_ = DesignBuilder();
        builder_.battery("battery", volts(12.8), ohms(0.05));
        std::vector<Line> out = grow("out", true, 20);
        std::vector<Line> back = grow("back", false, 8);
        for (std::size_t joint = 1; joint < out.size(); ++joint) {
            const double at_node = 12.8 / (0.05 + resistance(out, joint));
            pass(out, joint, at_node, tightest(out, joint));
            if (out[joint].fuse > 0.0) pass_before_fuse(out, joint, at_node);
        }
        for (int load = 0; load < 12; ++load) {
            const auto a = std::uniform_int_distribution<std::size_t>(1, out.size() - 1)(random_);
            const auto b = std::uniform_int_distribution<std::size_t>(1, back.size() - 1)(random_);
            const std::string name = "load" + std::to_string(load);
            builder_.heater(name, ohms(5.0));
            wire("out" + std::to_string(a) + ".x -> " + name + ".a", 0.0);
            wire(name + ".b -> back" + std::to_string(b) + ".x", 0.0);
            const double current = 12.8 / (0.05 + resistance(out, a) + resistance(back, b));
            pass(out, a, current, tightest(out, a));
            pass(back, b, current, tightest(out, a));
        }
        solve();
        expect(out);
        expect(back);
    }
}

// The order in which parts and wires are written must not change a number.
TEST_F(RandomFaults, DoNotDependOnTheDirectionWiresAreWritten) {
    for (int round = 0; round < 10; ++round) {
        builder_ = DesignBuilder();
        builder_.battery("battery", volts(12.8), ohms(0.05));
        grow("out", true, 15);
        grow("back", false, 5);
        builder_.heater("mat", ohms(5.0));
        wire("out14.x -> mat.a", 0.01);
        wire("mat.b -> back4.x", 0.01);
        solve();
        const std::vector<BranchFault> before = faults_.branch;
        for (Wire& each : builder_.design().wires) std::swap(each.from, each.to);
        solve();
        for (std::size_t i = 0; i < before.size(); ++i) {
            EXPECT_EQ(faults_.branch[i].highest, before[i].highest);
            EXPECT_EQ(faults_.branch[i].operating_current, before[i].operating_current);
            EXPECT_EQ(faults_.branch[i].fuse, before[i].fuse);
        }
    }
}

// Long bus with a load at every joint: the last wire sees the whole loop, the first only itself.
TEST_F(RandomFaults, LongBusKeepsItsClosedForm) {
    constexpr int count = 3000;
    builder_.battery("battery", volts(12.8), ohms(0.05));
    WireId last;
    for (int i = 1; i <= count; ++i) {
        builder_.heater("mat" + std::to_string(i), ohms(1000.0));
        const std::string before = "mat" + std::to_string(i - 1);
        const std::string here = "mat" + std::to_string(i);
        wire((i == 1 ? "battery.+" : before + ".a") + " -> " + here + ".a", 0.001);
        last = wire(here + ".b -> " + (i == 1 ? "battery.-" : before + ".b"), 0.001);
    }
    solve();
    EXPECT_NEAR(at(last).highest, 12.8 / (0.05 + 2.0 * 0.001 * count), 1e-9);
    EXPECT_NEAR(at(WireId{0}).highest, 12.8 / 0.051, 1e-9);
}

} // namespace
} // namespace trivet
