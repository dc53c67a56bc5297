#pragma once

#include "support/circuit_of.h"

#include <functional>
#include <random>
#include <string>
#include <vector>

namespace trivet {

// A circuit of up to 14 devices wired at random between a few posts: sources, heaters, and fuses, cutoffs, hand
// switches, one- and two-pole relays with change-over contacts, converters and diodes. Parts may be in parallel with
// themselves.
class RandomCircuit {
public:
    explicit RandomCircuit(std::mt19937& random)
        : random_(random) {
        posts_ = pick(3, 8);
        std::vector<std::string> names;
        for (int i = 0; i < posts_; ++i) names.push_back(std::to_string(i));
        build.part("post", names, {});
        for (int i = pick(1, 2); i > 0; --i) two_ends(build.supply(name(), volts(24.0)), "+", "-");
        for (int i = pick(1, 2); i > 0; --i) two_ends(build.heater(name(), ohms(10.0)), "a", "b");
        for (int i = pick(1, 10); i > 0; --i) add_device();
    }

    // Joins the metal of every heater to some post.
    void bond() {
        for (PartUse& use : build.design().parts)
            if (std::holds_alternative<HeaterElement>(use.part->elements.empty() ? ElementBody{}
                                                                                 : use.part->elements.front().body))
                use.bonded_to = build.terminal("post." + std::to_string(pick(0, posts_ - 1)));
    }

    DesignBuilder build;

private:
    int pick(int lo, int hi) { return std::uniform_int_distribution<int>(lo, hi)(random_); }
    std::string name() { return "p" + std::to_string(next_++); }
    void join(PartId part, const std::string& terminal) {
        build.wires(
            {build.design().part(part).name + "." + terminal + " -> post." + std::to_string(pick(0, posts_ - 1))});
    }
    void two_ends(PartId part, const std::string& first, const std::string& second) {
        join(part, first);
        join(part, second);
    }

    void add_device() {
        switch (pick(0, 7)) {
        case 0:
            return two_ends(build.fuse(name()), "in", "out");
        case 1:
        case 2:
            return two_ends(build.cutoff(name()), "in", "out");
        case 3:
            return two_ends(build.hand_switch(name()), "in", "out");
        case 4:
            return two_ends(build.diode(name()), "a", "k");
        case 5: {
            const PartId relay = build.relay(name(), ohms(100.0));
            two_ends(relay, "COM", "NO");
            return join(relay, "NC");
        }
        case 6:
            return two_poles();
        default: {
            const PartId buck =
                build.converter(name(), Topology::step_down, volts(8.0, 30.0), volts(12.0), number(0.9));
            two_ends(buck, "in+", "in-");
            return two_ends(buck, "out+", "out-");
        }
        }
    }

    void two_poles() {
        CoilElement coil;
        coil.between = ends(0, 1);
        std::vector<ElementBody> elements{coil};
        for (const std::uint16_t first : {std::uint16_t{2}, std::uint16_t{4}}) {
            ContactElement contact;
            contact.between = ends(first, static_cast<std::uint16_t>(first + 1));
            contact.driven_by = "coil";
            elements.push_back(contact);
        }
        const PartId relay = build.part(name(), {"1", "2", "A", "B", "C", "D"}, elements);
        two_ends(relay, "A", "B");
        two_ends(relay, "C", "D");
    }

    std::mt19937& random_;
    int posts_ = 0;
    int next_ = 0;
};

// Every loop from one end of an element over its other end back that visits no point twice and passes a source, found
// by trying all ways; each as the list of branches it passes.
class EveryLoop {
public:
    using Edge = std::tuple<std::uint32_t, std::uint32_t, BranchId>;

    explicit EveryLoop(const Circuit& circuit)
        : circuit_(circuit) {}

    // The conductors of a branch that lets through what a heater needs; a converter couples its input with its output.
    static std::vector<Edge> edges_of(const Circuit& circuit) {
        std::vector<Edge> edges;
        for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
            const Branch& b = circuit.branches[i];
            switch (b.kind) {
            case BranchKind::heater:
            case BranchKind::load:
            case BranchKind::coil:
            case BranchKind::resistor:
            case BranchKind::thermistor:
                break;
            case BranchKind::converter:
                edges.emplace_back(b.from.value, b.output_from.value, BranchId{i});
                edges.emplace_back(b.to.value, b.output_to.value, BranchId{i});
                break;
            default:
                edges.emplace_back(b.from.value, b.to.value, BranchId{i});
            }
        }
        return edges;
    }

    void visit(const std::vector<Edge>& edges, std::uint32_t nodes, std::uint32_t from, std::uint32_t to,
               const std::function<void(const std::vector<BranchId>&)>& found) {
        if (from == to) return;
        around_.assign(nodes, {});
        for (const auto& [a, b, id] : edges) {
            around_[a].push_back({b, id});
            around_[b].push_back({a, id});
        }
        seen_.assign(nodes, false);
        stop_ = false;
        passed_.clear();
        sources_ = 0;
        go(from, to, found);
    }

    void stop() { stop_ = true; } // from within `found`

private:
    void go(std::uint32_t here, std::uint32_t to, const std::function<void(const std::vector<BranchId>&)>& found) {
        if (here == to) {
            if (sources_ > 0) found(passed_);
            return;
        }
        seen_[here] = true;
        for (const auto& [next, id] : around_[here]) {
            if (seen_[next] || stop_) continue;
            const bool source = circuit_.branches[id.value].kind == BranchKind::source;
            passed_.push_back(id);
            sources_ += source ? 1 : 0;
            go(next, to, found);
            sources_ -= source ? 1 : 0;
            passed_.pop_back();
        }
        seen_[here] = false;
    }

    const Circuit& circuit_;
    std::vector<std::vector<std::pair<std::uint32_t, BranchId>>> around_;
    std::vector<bool> seen_;
    std::vector<BranchId> passed_;
    int sources_ = 0;
    bool stop_ = false;
};

} // namespace trivet
