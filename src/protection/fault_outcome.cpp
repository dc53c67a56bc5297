#include "protection/fault_outcome.h"

#include "circuit/list_search.h"
#include "circuit/paths.h"
#include "protection/settling.h"
#include "protection/stoppers.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// Common practice, no source: less than a twentieth of a heater's highest power, as through an indicator lamp, is off.
constexpr double least_share = 0.05;
constexpr double noticeably_more = 1.01;
constexpr double beyond_rated = 1.5; // of a supply that states no limit

struct Scenario {
    Positions on;                 // settled, without a fault
    std::vector<BranchId> opened; // cutoffs
    bool all_on = false;
};

class Study {
public:
    Study(const Circuit& circuit, const Nets& nets, const Design& design, const std::vector<Actuation>& actuations,
          const OffState& off, const WireRating& wire_rating)
        : circuit_(circuit)
        , design_(design)
        , actuations_(actuations)
        , split_(split_by_island(circuit))
        , faulted_(circuit, split_)
        , settling_(circuit, nets, design, actuations, split_)
        , ratings_(ratings_by_island(circuit, design, wire_rating))
        , takers_(split_.parts.size())
        , reference_power_(circuit.branches.size()) {
        list_takers();
        make_scenarios(off);
    }

    FaultOutcome sound() { return sound_; }
    FaultOutcome outcome(const FaultCase& fault);
    std::size_t solutions() const { return faulted_.solutions(); }

private:
    void list_takers();
    void make_scenarios(const OffState& off);
    void run_sound(Scenario& scenario);
    std::vector<std::uint32_t> islands_touched(const FaultCase& fault) const;
    void look_off(const Scenario& scenario, const FaultCase* fault, const Positions& on, std::uint32_t island,
                  FaultOutcome& to);
    void look_on(const Scenario& scenario, const FaultCase& fault, const Positions& on, std::uint32_t island,
                 FaultOutcome& to);
    bool may_load_more(const Scenario& scenario, const FaultCase& fault, const Positions& on, std::uint32_t island);
    void compare(const FaultedPoint& point, std::uint32_t island, FaultOutcome& to) const;
    bool list_overloaded(const OperatingPoint& point, std::uint32_t island, FaultOutcome& to) const;
    double power_of(BranchId heater, const OperatingPoint& point) const;
    void build(std::uint32_t island, const Positions& on, bool weak, BlockForest& loops) {
        faulted_.list_loops(island, on, weak, edges_);
        loops.build(split_.parts[island].circuit.node_count, edges_.edges, edges_.is_source);
    }
    const Branch& own(BranchId id) const {
        return split_.parts[split_.part_of(circuit_, id)].circuit.branches[split_.own_branch[id.value].value];
    }
    bool feeds(const BlockForest& loops, BranchId id) const {
        return !faulted_.is_removed(id) && loops.source_between(own(id).from.value, own(id).to.value);
    }

    const Circuit& circuit_;
    const Design& design_;
    const std::vector<Actuation>& actuations_;
    CircuitParts split_;
    FaultedCircuit faulted_;
    Settling settling_;
    std::vector<std::vector<Rating>> ratings_;
    std::vector<std::vector<BranchId>> takers_; // [island]: loads, heaters, coils
    std::vector<double> reference_power_; // [branch]: of heaters, W: with everything on, or at the full supply voltage
    std::vector<Scenario> scenarios_;
    std::vector<char> fed_when_on_;                // [branch]
    std::vector<std::vector<double>> sound_level_; // [island][rating]: the most without a fault
    FaultOutcome sound_;
    LoopEdges edges_;
    BlockForest loops_;
};

void Study::list_takers() {
    std::vector<double> highest(split_.parts.size()); // V
    for (const Branch& branch : circuit_.branches) {
        double& volts = highest[split_.part_of(circuit_, branch.from)];
        if (branch.kind == BranchKind::source) volts = std::max(volts, circuit_.parameters[branch.first_parameter].hi);
    }
    for (std::uint32_t i = 0; i < circuit_.branches.size(); ++i) {
        const BranchKind kind = circuit_.branches[i].kind;
        if (kind == BranchKind::load || kind == BranchKind::heater || kind == BranchKind::coil)
            takers_[split_.part_of(circuit_, BranchId{i})].push_back({i});
        if (kind != BranchKind::heater) continue;
        const double volts = highest[split_.part_of(circuit_, BranchId{i})];
        const double ohms = circuit_.parameters[circuit_.branches[i].first_parameter].lo;
        reference_power_[i] = ohms > 0.0 ? volts * volts / ohms : 0.0;
    }
}

void Study::make_scenarios(const OffState& off) {
    Positions hand_on = off.on;
    Positions all_on = off.on;
    for (std::size_t i = 0; i < off.on.size(); ++i) {
        all_on[i] = off.on[i] == 0 ? 1 : 0;
        if (circuit_.drivers[i].by_hand) hand_on[i] = all_on[i];
    }
    scenarios_.push_back({all_on, {}, true});
    scenarios_.push_back({off.on, off.opened, false});
    if (hand_on != off.on) scenarios_.push_back({hand_on, off.opened, false});
    for (Scenario& scenario : scenarios_) run_sound(scenario);
}

void Study::run_sound(Scenario& scenario) {
    std::vector<std::uint32_t> islands;
    for (std::uint32_t i = 0; i < split_.parts.size(); ++i) islands.push_back(i);
    faulted_.apply(nullptr, scenario.opened);
    settling_.settle(faulted_, nullptr, scenario.on, islands);
    sound_level_.resize(split_.parts.size());
    if (scenario.all_on) fed_when_on_.resize(circuit_.branches.size());
    for (std::uint32_t island = 0; island < split_.parts.size(); ++island) {
        if (split_.parts[island].circuit.branches.empty()) continue;
        const auto point = faulted_.solve(island, scenario.on);
        sound_level_[island].resize(ratings_[island].size());
        for (std::size_t i = 0; point && i < ratings_[island].size(); ++i)
            sound_level_[island][i] =
                std::max(sound_level_[island][i], measured(ratings_[island][i], point->point, split_));
        if (!scenario.all_on) {
            look_off(scenario, nullptr, scenario.on, island, sound_);
            continue;
        }
        build(island, scenario.on, false, loops_);
        for (const BranchId id : takers_[island]) {
            fed_when_on_[id.value] = feeds(loops_, id) ? 1 : 0;
            if (fed_when_on_[id.value] == 0) sound_.unfed.push_back(id);
            if (circuit_.branches[id.value].kind != BranchKind::heater) continue;
            if (const double power = point ? power_of(id, point->point) : 0.0; power > 0.0)
                reference_power_[id.value] = power;
        }
        if (!point) continue;
        list_overloaded(point->point, island, sound_);
        sound_.collapsed.insert(sound_.collapsed.end(), point->collapsed.begin(), point->collapsed.end());
    }
}

double Study::power_of(BranchId heater, const OperatingPoint& point) const {
    const Branch& branch = own(heater);
    const double volts = point.node_voltage[branch.from.value] - point.node_voltage[branch.to.value];
    return std::abs(volts * point.branch_current[split_.own_branch[heater.value].value]);
}

std::vector<std::uint32_t> Study::islands_touched(const FaultCase& fault) const {
    std::vector<std::uint32_t> islands;
    const auto add = [&](std::uint32_t island) {
        if (!contains(islands, island)) islands.push_back(island);
    };
    for (const BranchChange& change : fault.changes) add(split_.part_of(circuit_, change.branch));
    for (const Join& join : fault.joins) add(split_.part_of(circuit_, join.a));
    for (const ForcedDriver& forced : fault.forced)
        for (const std::uint32_t island : settling_.islands_of(forced.driver)) add(island);
    return islands;
}

bool Study::list_overloaded(const OperatingPoint& point, std::uint32_t island, FaultOutcome& to) const {
    bool any = false;
    const CircuitPart& part = split_.parts[island];
    for (std::uint32_t i = 0; i < part.branch_of.size(); ++i) {
        const Branch& branch = part.circuit.branches[i];
        if (branch.kind != BranchKind::source) continue;
        const Element& element = design_.part(branch.part).part->elements[branch.element];
        const auto& source = std::get<SourceElement>(element.body);
        double limit = 1000.0; // A: more than any wire of such a build bears
        if (source.limit_current)
            limit = source.limit_current->range.hi.si;
        else if (source.rated_current)
            limit = beyond_rated * source.rated_current->range.hi.si;
        if (std::abs(point.branch_current[i]) <= limit) continue;
        any = true;
        if (!contains(to.overloaded, part.branch_of[i])) to.overloaded.push_back(part.branch_of[i]);
    }
    return any;
}

void Study::compare(const FaultedPoint& point, std::uint32_t island, FaultOutcome& to) const {
    for (const BranchId id : point.collapsed)
        if (!contains(sound_.collapsed, id) && !contains(to.collapsed, id)) to.collapsed.push_back(id);
    if (list_overloaded(point.point, island, to)) return;
    for (std::size_t i = 0; i < ratings_[island].size(); ++i) {
        const Rating& rating = ratings_[island][i];
        const double value = measured(rating, point.point, split_);
        if (value <= rating.limit || value <= noticeably_more * sound_level_[island][i]) continue;
        const auto same = std::ranges::find_if(to.exceeded, [&](const Exceeded& e) {
            return e.rating.branch == rating.branch && e.rating.pin == rating.pin && e.rating.excess == rating.excess;
        });
        if (same == to.exceeded.end())
            to.exceeded.push_back({rating, value});
        else
            same->value = std::max(same->value, value);
    }
}

void Study::look_off(const Scenario& scenario, const FaultCase* fault, const Positions& on, std::uint32_t island,
                     FaultOutcome& to) {
    const bool by_hand = &scenario != &scenarios_[1];
    const auto known = [&](const std::vector<StuckOn>& list, BranchId id) {
        return std::ranges::any_of(
            list, [&](const StuckOn& stuck) { return stuck.heater == id && (by_hand || !stuck.needs_hand_switch); });
    };
    std::vector<BranchId> candidates;
    build(island, on, true, loops_);
    for (const BranchId id : takers_[island])
        if (circuit_.branches[id.value].kind == BranchKind::heater && !known(to.stuck_on, id) &&
            !known(sound_.stuck_on, id) && feeds(loops_, id))
            candidates.push_back(id);
    if (candidates.empty()) return;
    const auto point = faulted_.solve(island, on);
    if (point && fault != nullptr) compare(*point, island, to);
    for (const BranchId id : candidates) {
        StuckOn stuck;
        stuck.heater = id;
        if (point) stuck.highest_power = power_of(id, point->point);
        if (stuck.highest_power < least_share * reference_power_[id.value]) continue;
        stuck.needs_hand_switch = by_hand;
        find_stoppers({circuit_, split_, faulted_, fault, actuations_, on, scenario.on}, stuck);
        to.stuck_on.push_back(std::move(stuck));
    }
}

// Whether anything can get more than without the fault: something is shorted or closed, or current finds another way.
bool Study::may_load_more(const Scenario& scenario, const FaultCase& fault, const Positions& on, std::uint32_t island) {
    if (!fault.joins.empty()) return true;
    for (const BranchChange& change : fault.changes) {
        if (change.change == Change::shorted || change.change == Change::scaled) return true;
        const Branch& branch = own(change.branch);
        if (change.change == Change::opened && carries_power(branch) &&
            split_.part_of(circuit_, change.branch) == island &&
            !loops_.blocks_between(branch.from.value, branch.to.value).empty())
            return true;
    }
    const auto& branches = split_.parts[island].branch_of;
    return std::ranges::any_of(branches, [&](BranchId id) {
        const Branch& branch = circuit_.branches[id.value];
        if (!branch.driver) return false;
        const bool was_closed = (scenario.on[branch.driver->value] != 0) != branch.rests_closed;
        return !was_closed && faulted_.is_closed(id, on);
    });
}

void Study::look_on(const Scenario& scenario, const FaultCase& fault, const Positions& on, std::uint32_t island,
                    FaultOutcome& to) {
    build(island, on, false, loops_);
    for (const BranchId id : takers_[island])
        if (fed_when_on_[id.value] != 0 && !feeds(loops_, id)) to.unfed.push_back(id);
    if (!may_load_more(scenario, fault, on, island)) return;
    if (const auto point = faulted_.solve(island, on)) compare(*point, island, to);
}

FaultOutcome Study::outcome(const FaultCase& fault) {
    FaultOutcome result;
    for (const Scenario& scenario : scenarios_) {
        std::vector<std::uint32_t> islands = islands_touched(fault);
        if (islands.empty()) break;
        Positions on = scenario.on;
        for (const ForcedDriver& forced : fault.forced) on[forced.driver.value] = forced.on ? 1 : 0;
        faulted_.apply(&fault, scenario.opened);
        settling_.settle(faulted_, &fault, on, islands);
        for (const std::uint32_t island : islands) {
            if (scenario.all_on)
                look_on(scenario, fault, on, island, result);
            else
                look_off(scenario, &fault, on, island, result);
        }
    }
    std::ranges::sort(result.stuck_on, {}, &StuckOn::heater);
    std::ranges::sort(result.unfed);
    return result;
}

} // namespace

FaultStudy study_faults(const Circuit& circuit, const Nets& nets, const Design& design,
                        const std::vector<Actuation>& actuations, const OffState& off,
                        const std::vector<FaultCase>& cases, const WireRating& wire_rating) {
    Study study(circuit, nets, design, actuations, off, wire_rating);
    FaultStudy result{study.sound(), {}, 0};
    for (const FaultCase& fault : cases) result.outcomes.push_back(study.outcome(fault));
    result.solutions = study.solutions();
    return result;
}

} // namespace trivet
