#include "assess/heat_guards.h"

#include <algorithm>

namespace trivet {

namespace {

class GuardWriter {
public:
    GuardWriter(const Design& design, const Analysis& analysis)
        : design_(design)
        , analysis_(analysis) {}

    GuardedHeater write(const HeaterProtection& heater) const {
        GuardedHeater result{name_of(heater.heater), {}};
        for (const BranchId id : heater.interrupters) {
            const BranchKind kind = branch(id).kind;
            const bool acts =
                kind == BranchKind::contact || kind == BranchKind::transistor || kind == BranchKind::cutoff;
            if (acts) result.guards.push_back(guard(heater, id));
        }
        return result;
    }

private:
    const Branch& branch(BranchId id) const { return analysis_.circuit.branches[id.value]; }
    std::string name_of(BranchId id) const { return design_.part(branch(id).part).name; }

    HeatGuard guard(const HeaterProtection& heater, BranchId id) const {
        const Actuation actuation = branch(id).driver ? analysis_.actuations[branch(id).driver->value]
                                                      : actuation_of_cutoff(analysis_.circuit, design_, id);
        HeatGuard result;
        result.device = name_of(id);
        result.by = actuation.by;
        for (const TerminalRef pin : actuation.pins) result.pins.push_back(design_.terminal_name(pin));
        for (const BranchId way : actuation.through) result.through.push_back(name_of(way));
        for (const std::size_t control : actuation.controls) result.controls.push_back(design_.controls[control].name);
        for (const PartId sensor : actuation.sensors)
            if (sensor != branch(id).part) result.sensors.push_back(design_.part(sensor).name);
        result.independent = std::ranges::any_of(
            heater.cutoffs, [&](const CutoffVerdict& verdict) { return verdict.cutoff == id && !verdict.fault; });
        return result;
    }

    const Design& design_;
    const Analysis& analysis_;
};

} // namespace

std::vector<GuardedHeater> guarded_heaters(const Design& design, const Analysis& analysis) {
    const GuardWriter writer(design, analysis);
    std::vector<GuardedHeater> result;
    for (const HeaterProtection& heater : analysis.protection) result.push_back(writer.write(heater));
    return result;
}

} // namespace trivet
