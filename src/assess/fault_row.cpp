#include "assess/fault_row.h"

#include "assess/overdrive.h"
#include "circuit/list_search.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

void add(std::vector<std::string>& names, const std::string& name) { add_once(names, name); }

Place place_of(const FaultCase& fault, const Design& design) {
    if (fault.wire) return design.wire(*fault.wire).place;
    if (fault.control) return design.controls[*fault.control].place;
    return design.part(fault.part).place;
}

Dimension dimension_of(Excess kind) {
    switch (kind) {
    case Excess::power:
        return dim::power;
    case Excess::voltage:
    case Excess::pin_voltage:
        return dim::voltage;
    case Excess::current:
    case Excess::output_current:
        break;
    }
    return dim::current;
}

// IEC 60335-1 cl. 19.3: heating appliances bear 1.24 times their rated power, so 1.11 times the voltage (from memory).
constexpr double heater_bears = 1.11;

bool touches(const FaultCase& fault, std::uint32_t branch) {
    return std::ranges::any_of(fault.changes, [&](const BranchChange& c) { return c.branch.value == branch; });
}

// Already broken or bridged by the fault itself, so that its rating no longer matters.
bool is_gone(const FaultCase& fault, BranchId id) {
    return std::ranges::any_of(fault.changes, [&](const BranchChange& change) {
        return change.branch == id && (change.change == Change::opened || change.change == Change::shorted);
    });
}

// Whether something can still end every heat that stays on, so that only its temperature is unknown.
bool is_guarded(const FaultOutcome& outcome) {
    return std::ranges::all_of(outcome.stuck_on,
                               [](const StuckOn& stuck) { return !stuck.cutoffs.empty() || stuck.all_cutoffs_end_it; });
}

FaultClass class_of(const FaultOutcome& outcome, const FaultRow& row) {
    if ((row.unlimited && row.in_the_way.empty()) || (row.heat && row.heat->passed)) return FaultClass::hazard;
    if (!row.missing.empty()) return is_guarded(outcome) ? FaultClass::cannot_tell : FaultClass::hazard;
    if (!row.exceeded.empty()) return FaultClass::damages;
    if (row.latent) return FaultClass::latent;
    const bool works = row.unfed.empty() && row.overloaded.empty() && row.starved.empty() && row.fuses.empty();
    return works ? FaultClass::safe : FaultClass::stops;
}

} // namespace

FaultRows::FaultRows(const Design& design, const Analysis& analysis, const FaultOutcome& sound)
    : design_(design)
    , analysis_(analysis)
    , sound_(sound)
    , heat_(design, analysis.heat_inputs, analysis.heat) {
    const HeatInputs& inputs = analysis.heat_inputs;
    for (std::uint32_t i = 0; i < inputs.parts.size(); ++i) source_.emplace(inputs.parts[i].part.value, i);
    for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i) cutoff_.emplace(inputs.cutoffs[i].branch, i);
    for (const PartHeat& part : inputs.parts)
        for (const std::uint32_t i : part.cutoffs) add_once(independent_, i);
    if (!analysis.heat.described) add(missing_, "a [[body]] for all that gets warm");
    for (const auto* list : {&analysis.heat.missing_steady, &analysis.heat.missing_in_time})
        for (const std::string& item : *list) add(missing_, item);
    HeatFault none;
    add_all_cutoffs({}, none);
    if (missing_.empty()) without_ = heat_.outcome(none);
}

FaultRow FaultRows::row(const FaultCase& fault, const FaultOutcome& outcome) {
    FaultRow row;
    row.mode = fault_mode_names[static_cast<std::size_t>(fault.mode)];
    row.place = place_of(fault, design_);
    if (fault.wire) row.wire = design_.wire(*fault.wire).name;
    row.assumed = fault.assumed;
    row.latent = fault.latent;
    write_stuck(outcome, row);
    write_heat(fault, outcome, row);
    write_excess(fault, outcome, row);
    write_overload(fault, outcome, row);
    for (const BranchId id : outcome.unfed) add(row.unfed, name_of(id));
    for (const BranchId id : outcome.collapsed) add(row.starved, name_of(id));
    row.outcome = class_of(outcome, row);
    return row;
}

std::optional<FaultRow> FaultRows::sound() {
    if (sound_.stuck_on.empty()) return std::nullopt;
    FaultOutcome outcome;
    outcome.stuck_on = sound_.stuck_on;
    FaultRow row;
    row.fault = "nothing has failed";
    write_stuck(outcome, row);
    write_heat({}, outcome, row);
    row.outcome = class_of(outcome, row);
    return row;
}

std::optional<FaultHeat::Passed> FaultRows::running() {
    if (!without_.passed) return std::nullopt;
    return in_words(*without_.passed, without_.at_limit);
}

const std::string& FaultRows::name_of(BranchId id) const {
    const Branch& of = branch(id);
    return of.kind == BranchKind::wire ? design_.wire(of.wire).name : design_.part(of.part).name;
}

std::optional<std::uint32_t> FaultRows::source_of(BranchId heater) const {
    const auto found = source_.find(branch(heater).part.value);
    return found == source_.end() ? std::nullopt : std::optional(found->second);
}

void FaultRows::write_stuck(const FaultOutcome& outcome, FaultRow& row) const {
    row.while_hand_switch_on = !outcome.stuck_on.empty();
    for (const StuckOn& stuck : outcome.stuck_on) {
        add(row.stuck_on, name_of(stuck.heater));
        row.while_hand_switch_on = row.while_hand_switch_on && stuck.needs_hand_switch;
        for (const BranchId cutoff : stuck.cutoffs) add(row.cutoffs, name_of(cutoff));
        for (const DriverId driver : stuck.hand_switches)
            add(row.hand_switches, analysis_.circuit.drivers[driver.value].name);
        for (const DriverId driver : stuck.switches) add(row.switches, analysis_.circuit.drivers[driver.value].name);
    }
}

void FaultRows::write_heat(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) {
    HeatFault heat;
    for (const StuckOn& stuck : outcome.stuck_on) add_stuck(stuck, heat, row);
    add_overdriven(fault, heat, row);
    if (fault.mode == FaultMode::fan_stopped && fault.element) heat.stopped_fan = fault.part;
    const bool asks = !outcome.stuck_on.empty() || !row.overdriven.empty();
    if (!asks && !(heat.stopped_fan && heat_.can_tell())) return;
    if (outcome.stuck_on.empty()) add_all_cutoffs(fault, heat);
    for (const std::string& item : missing_) add(row.missing, item);
    if (!row.missing.empty()) return;
    const HeatOutcome played = heat_.outcome(heat);
    if (!asks && without_.passed) return; // as bad as without the fault
    if (played.known)
        row.heat = in_words(played);
    else if (asks)
        row.missing.push_back("a [[heat_path]] by which every body loses its heat");
}

// With the share of its usual power that it then takes; what keeps it from being followed goes into `row`.
void FaultRows::add_stuck(const StuckOn& stuck, HeatFault& heat, FaultRow& row) const {
    const auto source = source_of(stuck.heater);
    const std::string& name = name_of(stuck.heater);
    if (!source) {
        if (analysis_.heat.described) add(row.missing, fmt::format("a [[body]] with heated_by = \"{}\"", name));
        return;
    }
    const double usual = analysis_.heat_inputs.parts[*source].power.hi.si;
    const double share = std::isnan(stuck.highest_power) || usual <= 0.0 ? 1.0 : stuck.highest_power / usual;
    HeatFault::Stuck on{*source, std::max(1.0, share), working_cutoffs(stuck, {})};
    for (const std::uint32_t cutoff : on.cutoffs) add_once(heat.cutoffs, cutoff);
    const auto known = std::ranges::find(heat.stuck, *source, &HeatFault::Stuck::source);
    if (known == heat.stuck.end())
        heat.stuck.push_back(std::move(on));
    else // another zone of the same heater: what ends both ends it
        std::erase_if(known->cutoffs, [&](std::uint32_t cutoff) { return !contains(on.cutoffs, cutoff); });
    if (stuck.cutoffs.empty() && stuck.all_cutoffs_end_it)
        add(row.missing, fmt::format("one cutoff that alone ends the heat of {}", name));
}

// Heaters that are on anyway, and that nothing regulates.
void FaultRows::add_overdriven(const FaultCase& fault, HeatFault& heat, FaultRow& row) const {
    for (const StuckOn& on : sound_.stuck_on) {
        const auto share = overdrive(fault, on.heater, design_, analysis_);
        const auto source = source_of(on.heater);
        if (!share || !source) continue;
        heat.stuck.push_back({*source, *share, working_cutoffs(on, fault)});
        add(row.overdriven, name_of(on.heater));
        row.overdrive = std::max(row.overdrive, *share);
    }
}

void FaultRows::add_all_cutoffs(const FaultCase& fault, HeatFault& heat) const {
    for (const std::uint32_t index : independent_)
        if (!touches(fault, analysis_.heat_inputs.cutoffs[index].branch)) add_once(heat.cutoffs, index);
}

std::vector<std::uint32_t> FaultRows::working_cutoffs(const StuckOn& stuck, const FaultCase& fault) const {
    std::vector<std::uint32_t> working;
    for (const BranchId id : stuck.cutoffs) {
        const auto found = cutoff_.find(id.value);
        if (found != cutoff_.end() && !touches(fault, id.value)) add_once(working, found->second);
    }
    return working;
}

FaultHeat FaultRows::in_words(const HeatOutcome& played) const {
    FaultHeat heat;
    if (played.opened) {
        heat.stopped_by = design_.part(analysis_.heat_inputs.cutoffs[*played.opened].part).name;
        heat.stopped_after = played.opened_at;
    }
    const auto hottest = std::ranges::max_element(played.highest);
    if (hottest != played.highest.end()) {
        heat.hottest = design_.bodies[static_cast<std::size_t>(hottest - played.highest.begin())].name;
        heat.hottest_at = *hottest;
    }
    if (played.passed) heat.passed = in_words(*played.passed, played.at_limit);
    return heat;
}

FaultHeat::Passed FaultRows::in_words(const HeatLimit& limit, Temperature reached) const {
    return {design_.bodies[limit.body.value].name, limit.what, limit.highest, reached};
}

void FaultRows::write_excess(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) const {
    for (const Exceeded& exceeded : outcome.exceeded) {
        const Rating& rating = exceeded.rating;
        if (!rating.pin && is_gone(fault, rating.branch)) continue;
        if (!rating.pin && branch(rating.branch).kind == BranchKind::wire) continue; // see write_overload
        const Dimension dimension = dimension_of(rating.excess);
        const bool is_heater = !rating.pin && branch(rating.branch).kind == BranchKind::heater;
        if (is_heater && exceeded.value < heater_bears * rating.limit) continue;
        const bool is_fuse = !rating.pin && branch(rating.branch).kind == BranchKind::fuse;
        auto& list = is_fuse ? row.fuses : row.exceeded;
        list.push_back({rating.excess,
                        rating.pin ? design_.terminal_name(*rating.pin) : name_of(rating.branch),
                        {exceeded.value, dimension},
                        {rating.limit, dimension}});
    }
}

bool FaultRows::is_battery(BranchId id) const {
    const Branch& of = branch(id);
    if (of.kind != BranchKind::source) return false;
    return std::get<SourceElement>(design_.part(of.part).part->elements[of.element].body).is_battery;
}

// Sources that cannot give what they are asked for, and batteries that can, but no wire bears it.
std::vector<BranchId> FaultRows::overloaded_by(const FaultOutcome& outcome) const {
    std::vector<BranchId> sources = outcome.overloaded;
    for (const Exceeded& exceeded : outcome.exceeded) {
        if (exceeded.rating.pin || branch(exceeded.rating.branch).kind != BranchKind::wire) continue;
        const IslandId island = analysis_.circuit.island_of_node[exceeded.rating.from.value];
        for (const BranchId id : analysis_.circuit.branches_of_island[island.value])
            if (is_battery(id)) add_once(sources, id);
    }
    return sources;
}

// What ends the current of an overloaded supply: its own limit, or a fuse before what was shorted.
void FaultRows::write_overload(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) const {
    bool bridges = false; // a fuse
    for (const BranchChange& change : fault.changes) {
        if (change.change == Change::opened) continue;
        bridges = bridges || branch(change.branch).kind == BranchKind::fuse;
        for (const BranchId id : analysis_.interrupters[change.branch.value])
            if (branch(id).kind == BranchKind::fuse && !is_gone(fault, id)) add(row.in_the_way, name_of(id));
    }
    for (const BranchId id : overloaded_by(outcome)) {
        add(row.overloaded, name_of(id));
        if (!is_battery(id)) continue;
        row.unlimited = true;
        const auto run = analysis_.unfused.find(id.value);
        if (row.in_the_way.empty() && !bridges && run != analysis_.unfused.end() && run->second.ends_in_fuses())
            row.in_the_way.emplace_back("its fuse");
    }
    if (row.overloaded.empty()) row.in_the_way.clear();
}

} // namespace trivet
