#include "assess/fault_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// One fault in the words and numbers of its row.
class RowWriter {
public:
    RowWriter(const Design& design, const Analysis& analysis, HeatFaults& heat)
        : design_(design)
        , analysis_(analysis)
        , heat_(heat) {}

    FaultRow write(const FaultCase& fault, const FaultOutcome& outcome) {
        FaultRow row;
        row.fault = describe(fault, design_);
        row.mode = fault.mode;
        row.place = place_of(fault);
        row.assumed = fault.assumed;
        write_heat(fault, outcome, row);
        write_excess(outcome, row);
        for (const BranchId id : outcome.unfed) add(row.unfed, name_of(id));
        for (const BranchId id : outcome.overloaded) add(row.overloaded, name_of(id));
        row.outcome = class_of(fault, outcome, row);
        return row;
    }

private:
    const Branch& branch(BranchId id) const { return analysis_.circuit.branches[id.value]; }

    std::string name_of(BranchId id) const {
        const Branch& of = branch(id);
        return of.kind == BranchKind::wire ? design_.wire(of.wire).name : design_.part(of.part).name;
    }

    static void add(std::vector<std::string>& names, std::string name) {
        if (std::ranges::find(names, name) == names.end()) names.push_back(std::move(name));
    }

    Place place_of(const FaultCase& fault) const {
        if (fault.wire) return design_.wire(*fault.wire).place;
        if (fault.control) return design_.controls[*fault.control].place;
        return design_.part(fault.part).place;
    }

    void write_heat(const FaultCase& fault, const FaultOutcome& outcome, FaultRow& row) {
        HeatFault heat;
        for (const StuckOn& stuck : outcome.stuck_on) {
            add(row.stuck_on, name_of(stuck.heater));
            for (const BranchId cutoff : stuck.cutoffs) add(row.cutoffs, name_of(cutoff));
            all_described_ = add_source(stuck, heat) && all_described_;
        }
        if (fault.mode == FaultMode::fan_stopped) heat.stopped_fan = fault.part;
        const bool asks = !heat.stuck.empty() || heat.stopped_fan;
        const bool described = std::exchange(all_described_, true);
        if (!asks || !described) return;
        const HeatOutcome played = heat_.outcome(heat);
        if (!played.known) return;
        row.heat_known = true;
        write_temperatures(played, row);
    }

    void write_temperatures(const HeatOutcome& played, FaultRow& row) const {
        if (played.opened) {
            row.stopped_by = design_.part(analysis_.heat_inputs.cutoffs[*played.opened].part).name;
            row.stopped_after = played.opened_at;
        }
        const auto hottest = std::ranges::max_element(played.highest);
        if (hottest != played.highest.end()) {
            row.hottest = design_.bodies[static_cast<std::size_t>(hottest - played.highest.begin())].name;
            row.hottest_at = *hottest;
        }
        if (!played.passed) return;
        row.limit = played.passed->what;
        row.limit_at = played.passed->highest;
        row.reached = played.at_limit;
    }

    // Whether the stuck heater warms a described body, so that its temperature can be followed.
    bool add_source(const StuckOn& stuck, HeatFault& heat) const {
        const HeatInputs& inputs = analysis_.heat_inputs;
        const PartId part = branch(stuck.heater).part;
        const auto source = std::ranges::find(inputs.parts, part, &PartHeat::part);
        if (source == inputs.parts.end()) return false;
        const double usual = source->power.hi.si;
        const double share = std::isnan(stuck.highest_power) || usual <= 0.0 ? 1.0 : stuck.highest_power / usual;
        heat.stuck.push_back({static_cast<std::uint32_t>(source - inputs.parts.begin()), std::max(1.0, share)});
        for (std::uint32_t i = 0; i < inputs.cutoffs.size(); ++i) {
            const bool left = std::ranges::any_of(
                stuck.cutoffs, [&](BranchId cutoff) { return cutoff.value == inputs.cutoffs[i].branch; });
            if (left && std::ranges::find(heat.cutoffs, i) == heat.cutoffs.end()) heat.cutoffs.push_back(i);
        }
        return true;
    }

    void write_excess(const FaultOutcome& outcome, FaultRow& row) const {
        constexpr std::array dimensions{dim::current, dim::voltage, dim::current, dim::power, dim::voltage};
        for (const Exceeded& exceeded : outcome.exceeded) {
            const Rating& rating = exceeded.rating;
            const auto kind = static_cast<std::size_t>(rating.excess);
            const std::string of = rating.pin ? design_.terminal_name(*rating.pin) : name_of(rating.branch);
            row.exceeded.push_back({fmt::format("{} of {}", excess_names.at(kind), of),
                                    {exceeded.value, dimensions.at(kind)},
                                    {rating.limit, dimensions.at(kind)}});
        }
    }

    static FaultClass class_of(const FaultCase& fault, const FaultOutcome& outcome, const FaultRow& row) {
        const bool asks_heat = !outcome.stuck_on.empty() || fault.mode == FaultMode::fan_stopped;
        if (row.heat_known && !row.limit.empty()) return FaultClass::hazard;
        if (asks_heat && !row.heat_known && !outcome.stuck_on.empty()) {
            const bool guarded = std::ranges::all_of(outcome.stuck_on, [](const StuckOn& stuck) {
                return !stuck.cutoffs.empty() || stuck.all_cutoffs_end_it;
            });
            return guarded ? FaultClass::cannot_tell : FaultClass::hazard;
        }
        if (!outcome.exceeded.empty()) return FaultClass::damages;
        if (fault.latent) return FaultClass::latent;
        if (!outcome.unfed.empty() || !outcome.overloaded.empty() || !outcome.collapsed.empty())
            return FaultClass::stops;
        return FaultClass::safe;
    }

    const Design& design_;
    const Analysis& analysis_;
    HeatFaults& heat_;
    bool all_described_ = true;
};

FaultCase together(const FaultCase& latent, const FaultCase& other) {
    FaultCase both = other;
    both.assumed = latent.assumed || other.assumed;
    both.latent = latent.latent && other.latent;
    both.changes.insert(both.changes.end(), latent.changes.begin(), latent.changes.end());
    both.joins.insert(both.joins.end(), latent.joins.begin(), latent.joins.end());
    both.forced.insert(both.forced.end(), latent.forced.begin(), latent.forced.end());
    return both;
}

struct Pair {
    std::size_t latent = 0;
    std::size_t other = 0;
};

std::vector<Pair> pairs_of(const std::vector<FaultCase>& cases) {
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < cases.size(); ++i)
        for (std::size_t j = 0; cases[i].latent && j < cases.size(); ++j) {
            const bool same = cases[i].part == cases[j].part && cases[i].element == cases[j].element &&
                              cases[i].wire == cases[j].wire && cases[i].control == cases[j].control;
            if (!same && (!cases[j].latent || j > i)) pairs.push_back({i, j});
        }
    return pairs;
}

} // namespace

FaultTable fault_table(const Design& design, const Analysis& analysis, bool pairs) {
    const std::vector<Actuation> actuations = actuations_of_drivers(analysis.circuit, analysis.nets, design);
    const OffState off = heaters_off(analysis.circuit, design, actuations);
    const std::vector<FaultCase> single = fault_cases(analysis.circuit, analysis.nets, design, actuations, off);
    std::vector<FaultCase> cases = single;
    std::vector<Pair> of;
    if (pairs) {
        of = pairs_of(single);
        cases.clear();
        for (const Pair& pair : of) cases.push_back(together(single[pair.latent], single[pair.other]));
    }
    const FaultStudy study = study_faults(analysis.circuit, analysis.nets, design, actuations, off, cases);
    HeatFaults heat(design, analysis.heat_inputs, analysis.heat);
    RowWriter writer(design, analysis, heat);
    FaultTable table;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        table.rows.push_back(writer.write(cases[i], study.outcomes[i]));
        if (pairs) table.rows.back().fault += ", with " + describe(single[of[i].latent], design);
    }
    std::ranges::stable_sort(table.rows, {}, &FaultRow::outcome);
    for (const FaultRow& row : table.rows) ++table.count.at(static_cast<std::size_t>(row.outcome));
    return table;
}

} // namespace trivet
