#include "protection/devices.h"

#include "circuit/paths.h"
#include "protection/circuit_part.h"

#include <algorithm>

namespace trivet {

namespace {

// The loops of one part of a circuit while some branches are open.
class OpenedLoops {
public:
    explicit OpenedLoops(const CircuitPart& part)
        : part_(&part)
        , open_(part.circuit.branches.size()) {}

    template <class OwnBranches> void open(const OwnBranches& own_branches) {
        std::ranges::fill(open_, char{0});
        for (const BranchId own : own_branches) open_[own.value] = 1;
        edges_.clear();
        edges_.add_all(part_->circuit, open_);
        forest_.build(part_->circuit.node_count, edges_.edges, edges_.is_source);
    }

    bool feeds(BranchId own) const {
        const Branch& branch = part_->circuit.branches[own.value];
        return forest_.source_between(branch.from.value, branch.to.value);
    }

private:
    const CircuitPart* part_;
    std::vector<char> open_;
    LoopEdges edges_;
    BlockForest forest_;
};

} // namespace

std::vector<Device> devices_of(const Circuit& circuit) {
    std::vector<Device> devices;
    std::vector<Device> of_driver(2 * circuit.drivers.size());
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.driver) {
            Device& device = of_driver[2 * branch.driver->value + (branch.rests_closed ? 1 : 0)];
            device.driver = branch.driver;
            device.opens_when_on = branch.rests_closed;
            device.opens.push_back({i});
        } else if (can_turn_off(branch)) {
            devices.push_back({{}, false, {{i}}});
        }
    }
    for (Device& device : of_driver)
        if (device.driver) devices.push_back(std::move(device));
    return devices;
}

std::vector<HeaterDevices> devices_that_interrupt(const Circuit& circuit) {
    const CircuitParts split = split_by_island(circuit);
    std::vector<HeaterDevices> result;
    std::vector<std::vector<std::size_t>> heaters_of(split.parts.size()); // indexes into result
    std::vector<OpenedLoops> loops;
    for (const CircuitPart& part : split.parts) loops.emplace_back(part);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        if (circuit.branches[i].kind != BranchKind::heater) continue;
        const std::uint32_t part = split.part_of(circuit, BranchId{i});
        if (heaters_of[part].empty()) loops[part].open(std::vector<BranchId>{});
        heaters_of[part].push_back(result.size());
        result.push_back({{i}, loops[part].feeds(split.own_branch[i]), {}});
    }
    for (const Device& device : devices_of(circuit)) {
        std::vector<std::vector<BranchId>> opened(1);
        std::vector<std::uint32_t> parts;
        for (const BranchId branch : device.opens) {
            const std::uint32_t part = split.part_of(circuit, branch);
            const auto at = static_cast<std::size_t>(std::ranges::find(parts, part) - parts.begin());
            if (at == parts.size()) parts.push_back(part);
            opened.resize(std::max(opened.size(), parts.size()));
            opened[at].push_back(split.own_branch[branch.value]);
        }
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (heaters_of[parts[i]].empty()) continue;
            loops[parts[i]].open(opened[i]);
            for (const std::size_t heater : heaters_of[parts[i]])
                if (result[heater].fed && !loops[parts[i]].feeds(split.own_branch[result[heater].heater.value]))
                    result[heater].devices.push_back(device);
        }
    }
    return result;
}

bool stays_fed(const Circuit& circuit, BranchId heater, std::span<const BranchId> opened) {
    const IslandId island = circuit.island_of_node[circuit.branches[heater.value].from.value];
    LoopEdges edges;
    std::vector<char> open(circuit.branches.size());
    for (const BranchId branch : opened) open[branch.value] = 1;
    for (const BranchId id : circuit.branches_of_island[island.value])
        if (open[id.value] == 0 && carries_power(circuit.branches[id.value])) edges.add(circuit.branches[id.value], id);
    BlockForest forest;
    forest.build(circuit.node_count, edges.edges, edges.is_source);
    const Branch& asked = circuit.branches[heater.value];
    return forest.source_between(asked.from.value, asked.to.value);
}

} // namespace trivet
