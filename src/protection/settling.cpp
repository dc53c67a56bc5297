#include "protection/settling.h"

#include "protection/input_rest.h"

#include <algorithm>
#include <map>

namespace trivet {

namespace {

template <class T> bool add_once(std::vector<T>& list, const T& item) {
    if (std::ranges::find(list, item) != list.end()) return false;
    list.push_back(item);
    return true;
}

} // namespace

class Settling::Fed {
public:
    Fed(const Circuit& circuit, const CircuitParts& split, const FaultedCircuit& faulted, const Positions& on)
        : circuit_(circuit)
        , split_(split)
        , faulted_(faulted)
        , on_(on) {}

    bool operator()(BranchId id) {
        if (faulted_.is_removed(id)) return false;
        const std::uint32_t island = split_.part_of(circuit_, id);
        auto found = loops_.find(island);
        if (found == loops_.end()) {
            found = loops_.emplace(island, BlockForest{}).first;
            faulted_.list_loops(island, on_, false, edges_);
            found->second.build(split_.parts[island].circuit.node_count, edges_.edges, edges_.is_source);
        }
        const Branch& own = split_.parts[island].circuit.branches[split_.own_branch[id.value].value];
        return found->second.source_between(own.from.value, own.to.value);
    }

    void forget() { loops_.clear(); }

private:
    const Circuit& circuit_;
    const CircuitParts& split_;
    const FaultedCircuit& faulted_;
    const Positions& on_;
    std::map<std::uint32_t, BlockForest> loops_;
    LoopEdges edges_;
};

Settling::Settling(const Circuit& circuit, const Nets& nets, const Design& design,
                   const std::vector<Actuation>& actuations, const CircuitParts& split)
    : circuit_(&circuit)
    , split_(&split)
    , loads_of_part_(design.parts.size())
    , followers_of_island_(split.parts.size())
    , islands_of_driver_(circuit.drivers.size()) {
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.kind == BranchKind::load) loads_of_part_[branch.part.value].push_back({i});
        if (branch.driver) add_once(islands_of_driver_[branch.driver->value], split.part_of(circuit, BranchId{i}));
    }
    // Only what a supply reaches at all can tell something by losing it: every branch counts as closed here.
    Circuit closed = circuit;
    for (Branch& branch : closed.branches) branch.driver.reset();
    const FaultedCircuit sound(closed, split);
    const Positions none;
    Fed fed(circuit, split, sound, none);
    for (const Actuation& actuation : actuations) {
        if (actuation.by == ActuatedBy::hand) continue;
        Follower follower = follower_of(nets, design, actuation, fed);
        std::vector<BranchId> needs = follower.module;
        if (follower.coil) needs.push_back(*follower.coil);
        for (const auto& board : follower.boards) needs.insert(needs.end(), board.begin(), board.end());
        for (const BranchId need : needs)
            add_once(followers_of_island_[split.part_of(circuit, need)], followers_.size());
        if (!needs.empty()) followers_.push_back(std::move(follower));
    }
}

Settling::Follower Settling::follower_of(const Nets& nets, const Design& design, const Actuation& actuation,
                                         Fed& sound) const {
    Follower follower;
    follower.driver = *actuation.driver;
    if (actuation.coil && sound(*actuation.coil)) follower.coil = actuation.coil;
    const auto fed_loads = [&](PartId part) {
        std::vector<BranchId> loads;
        for (const BranchId load : loads_of_part_[part.value])
            if (sound(load)) loads.push_back(load);
        return loads;
    };
    follower.module = fed_loads(actuation.part);
    std::vector<PartId> boards;
    for (std::size_t i = 0; i < actuation.own_pins; ++i) add_once(boards, actuation.pins[i].part);
    for (const PartId board : boards) follower.boards.push_back(fed_loads(board));
    // A board about which nothing says what it draws counts as alive.
    if (std::ranges::any_of(follower.boards, [](const auto& board) { return board.empty(); })) follower.boards.clear();
    if (!follower.boards.empty()) follower.rests_on = rest_of_input(*circuit_, nets, design, actuation).on;
    return follower;
}

std::optional<bool> Settling::position(const Follower& follower, Fed& fed) const {
    const auto dead = [&](const std::vector<BranchId>& loads) {
        return !loads.empty() && std::ranges::none_of(loads, [&](BranchId load) { return fed(load); });
    };
    if (dead(follower.module)) return false;
    if (follower.coil) return fed(*follower.coil);
    if (!follower.boards.empty() && std::ranges::all_of(follower.boards, dead)) return follower.rests_on;
    return std::nullopt;
}

void Settling::settle(const FaultedCircuit& faulted, const FaultCase* fault, Positions& on,
                      std::vector<std::uint32_t>& islands) const {
    const Positions commanded = on;
    const auto is_forced = [&](DriverId driver) {
        return fault != nullptr &&
               std::ranges::any_of(fault->forced, [&](const ForcedDriver& f) { return f.driver == driver; });
    };
    Fed fed(*circuit_, *split_, faulted, on);
    bool changed = true;
    for (std::size_t round = 0; changed && round < on.size() + 2; ++round) {
        changed = false;
        fed.forget();
        for (std::size_t i = 0; i < islands.size(); ++i) {
            for (const std::size_t index : followers_of_island_[islands[i]]) {
                const DriverId driver = followers_[index].driver;
                if (is_forced(driver)) continue;
                const bool now = position(followers_[index], fed).value_or(commanded[driver.value] != 0);
                if (now == (on[driver.value] != 0)) continue;
                on[driver.value] = now ? 1 : 0;
                changed = true;
                for (const std::uint32_t island : islands_of(driver)) add_once(islands, island);
            }
        }
    }
}

} // namespace trivet
