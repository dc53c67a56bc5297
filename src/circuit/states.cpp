#include "circuit/state.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace trivet {

namespace {

// Beyond this, an island's switches are not even taken one by one: each would be a solution of a large network.
constexpr std::size_t one_by_one_drivers = 200;

struct Conflict {
    DriverId first;
    DriverId second;
    std::size_t control = 0;
};

struct Conflicts {
    std::vector<Conflict> all;
    std::vector<std::vector<std::uint32_t>> of_first; // [driver]: indexes into all
};

// The switches of one island and which of them the firmware never closes together, as indexes into `drivers`.
struct Switches {
    std::vector<DriverId> drivers; // sorted
    std::vector<std::vector<std::uint32_t>> excluded;

    std::uint32_t index(DriverId driver) const {
        return static_cast<std::uint32_t>(std::ranges::lower_bound(drivers, driver) - drivers.begin());
    }
    bool contains(DriverId driver) const { return std::ranges::binary_search(drivers, driver); }
};

std::vector<DriverId> drivers_of(const Circuit& circuit, IslandId island) {
    std::vector<DriverId> found;
    for (const BranchId id : circuit.branches_of_island[island.value])
        if (const auto driver = circuit.branches[id.value].driver) found.push_back(*driver);
    std::ranges::sort(found);
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

Conflicts find_conflicts(const Circuit& circuit, const Design& design) {
    std::vector<std::vector<DriverId>> of_part(design.parts.size());
    for (std::uint32_t i = 0; i < circuit.drivers.size(); ++i) of_part[circuit.drivers[i].part.value].push_back({i});
    Conflicts found;
    found.of_first.resize(circuit.drivers.size());
    for (std::size_t control = 0; control < design.controls.size(); ++control) {
        for (const PartId driven : design.controls[control].drives) {
            for (const PartId excluded : design.controls[control].never_with) {
                if (driven == excluded) continue;
                for (const DriverId first : of_part[driven.value]) {
                    for (const DriverId second : of_part[excluded.value]) {
                        found.of_first[first.value].push_back(static_cast<std::uint32_t>(found.all.size()));
                        found.all.push_back({first, second, control});
                    }
                }
            }
        }
    }
    return found;
}

// Marks in `matters` the conflicts between switches of this island.
Switches switches_of(const Circuit& circuit, IslandId island, const Conflicts& conflicts, std::vector<bool>& matters) {
    Switches switches{drivers_of(circuit, island), {}};
    switches.excluded.resize(switches.drivers.size());
    for (std::uint32_t first = 0; first < switches.drivers.size(); ++first) {
        for (const std::uint32_t conflict : conflicts.of_first[switches.drivers[first].value]) {
            const DriverId other = conflicts.all[conflict].second;
            if (!switches.contains(other)) continue;
            const std::uint32_t second = switches.index(other);
            switches.excluded[first].push_back(second);
            switches.excluded[second].push_back(first);
            matters[conflict] = true;
        }
    }
    return switches;
}

std::string assumption(const Conflict& conflict, const Circuit& circuit, const Design& design) {
    return fmt::format("{}: the firmware never switches on {} and {} together; nothing else prevents it.",
                       design.controls[conflict.control].name, circuit.drivers[conflict.first.value].name,
                       circuit.drivers[conflict.second.value].name);
}

using Choice = std::vector<bool>; // [driver of the island]: on

bool is_allowed(const Switches& switches, const Choice& on) {
    for (std::size_t i = 0; i < on.size(); ++i)
        if (on[i] && std::ranges::any_of(switches.excluded[i], [&](std::uint32_t other) { return on[other]; }))
            return false;
    return true;
}

std::vector<Choice> every_choice(const Switches& switches) {
    const std::size_t count = switches.drivers.size();
    std::vector<Choice> choices;
    for (std::size_t mask = 0; mask < (std::size_t{1} << count); ++mask) {
        Choice on(count);
        for (std::size_t i = 0; i < count; ++i) on[i] = ((mask >> i) & 1U) != 0;
        if (is_allowed(switches, on)) choices.push_back(std::move(on));
    }
    return choices;
}

// As many switches on as the firmware allows, `first` before all others and `missing` never.
Choice most(const Switches& switches, std::optional<std::size_t> first, std::optional<std::size_t> missing) {
    Choice on(switches.drivers.size());
    const auto try_on = [&](std::size_t i) {
        on[i] =
            i != missing && std::ranges::none_of(switches.excluded[i], [&](std::uint32_t other) { return on[other]; });
    };
    if (first) try_on(*first);
    for (std::size_t i = 0; i < on.size(); ++i)
        if (!on[i]) try_on(i);
    return on;
}

// All off; as many on as possible; each alone; each missing; each with as many others as it may run with.
std::vector<Choice> bounding_choices(const Switches& switches) {
    const std::size_t count = switches.drivers.size();
    std::vector<Choice> choices{Choice(count), most(switches, {}, {})};
    if (count > one_by_one_drivers) return choices;
    for (std::size_t i = 0; i < count; ++i) {
        Choice alone(count);
        alone[i] = true;
        choices.push_back(std::move(alone));
        choices.push_back(most(switches, {}, i));
        if (!switches.excluded[i].empty()) choices.push_back(most(switches, i, {}));
    }
    std::ranges::sort(choices);
    choices.erase(std::unique(choices.begin(), choices.end()), choices.end());
    return choices;
}

State state_of(IslandId island, const Switches& switches, const Choice& on) {
    State state{island, {}};
    for (std::size_t i = 0; i < on.size(); ++i)
        if (on[i]) state.on.push_back(switches.drivers[i]);
    return state;
}

} // namespace

StateSet reachable_states(const Circuit& circuit, const Design& design, std::size_t exhaustive_drivers) {
    StateSet result;
    result.of_island.resize(circuit.island_count);
    const Conflicts conflicts = find_conflicts(circuit, design);
    std::vector<bool> matters(conflicts.all.size());
    for (std::uint32_t i = 0; i < circuit.island_count; ++i) {
        if (circuit.branches_of_island[i].empty()) continue;
        const Switches switches = switches_of(circuit, {i}, conflicts, matters);
        const bool exhaustive = switches.drivers.size() <= exhaustive_drivers;
        result.is_bound = result.is_bound || !exhaustive;
        for (const Choice& on : exhaustive ? every_choice(switches) : bounding_choices(switches)) {
            result.of_island[i].push_back(static_cast<std::uint32_t>(result.states.size()));
            result.states.push_back(state_of({i}, switches, on));
        }
    }
    for (std::size_t c = 0; c < conflicts.all.size(); ++c)
        if (matters[c]) result.assumptions.push_back(assumption(conflicts.all[c], circuit, design));
    return result;
}

bool is_closed(const Branch& branch, const State& state) {
    if (!branch.driver) return true;
    return std::ranges::binary_search(state.on, *branch.driver) != branch.rests_closed;
}

std::string to_text(const State& state, const Circuit& circuit) {
    std::string text;
    for (const DriverId driver : drivers_of(circuit, state.island)) {
        if (!text.empty()) text += ", ";
        text += circuit.drivers[driver.value].name;
        text += std::ranges::binary_search(state.on, driver) ? " on" : " off";
    }
    return text.empty() ? "always" : text;
}

} // namespace trivet
