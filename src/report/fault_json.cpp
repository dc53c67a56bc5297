#include "report/fault_json.h"

#include "protection/ratings.h"
#include "report/fault_words.h"
#include "report/wording.h"
#include "units/format.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

using Json = nlohmann::ordered_json;

double tenths(double value) { return std::round(value * 10.0) / 10.0; }
double degrees(Temperature t) { return tenths(in_celsius(t)); }

Json passed_json(const std::optional<FaultHeat::Passed>& passed) {
    if (!passed) return nullptr;
    return {{"body", passed->body},
            {"reached_C", degrees(passed->reached)},
            {"limit_of", passed->limit},
            {"limit_C", degrees(passed->limit_at)}};
}

Json heat_json(const FaultHeat& heat) {
    Json out{{"hottest", heat.hottest}, {"hottest_C", degrees(heat.hottest_at)}};
    out["opens"] = heat.stopped_by.empty() ? Json(nullptr) : Json(heat.stopped_by);
    out["opens_after_s"] = heat.stopped_by.empty() ? Json(nullptr) : Json(tenths(heat.stopped_after.si));
    out["too_hot"] = passed_json(heat.passed);
    return out;
}

Json excesses_json(const std::vector<FaultRow::Excess>& list) {
    Json out = Json::array();
    for (const FaultRow::Excess& excess : list)
        out.push_back({{"of", excess.of},
                       {"what", excess_names.at(static_cast<std::size_t>(excess.kind))},
                       {"value_si", excess.value.si},
                       {"value", to_text(excess.value)},
                       {"limit_si", excess.limit.si},
                       {"limit", to_text(excess.limit)}});
    return out;
}

Json row_json(const FaultRow& row, const Sources& sources) {
    Json out{{"outcome", fault_class_names.at(static_cast<std::size_t>(row.outcome))},
             {"fault", row.fault},
             {"consequence", fault_consequence(row)}};
    if (!row.with.empty()) out["with"] = row.with;
    if (!row.mode.empty()) out["mode"] = row.mode;
    if (row.place.line != 0)
        out["place"] = {{"file", sources.name(row.place.file)}, {"line", row.place.line}, {"column", row.place.column}};
    out["latent"] = row.latent;
    out["worst_assumed"] = row.assumed;
    out["stays_on"] = row.stuck_on;
    out["only_with_hand_switch_on"] = row.while_hand_switch_on;
    out["overdriven"] = row.overdriven;
    out["heat"] = row.heat ? heat_json(*row.heat) : Json(nullptr);
    out["not_described"] = row.missing;
    out["ended_by"] = {{"cutoffs", row.cutoffs}, {"hand_switches", row.hand_switches}, {"switches", row.switches}};
    out["too_much"] = excesses_json(row.exceeded);
    out["fuses"] = excesses_json(row.fuses);
    out["no_current"] = row.unfed;
    out["too_little"] = row.starved;
    out["overloaded"] = row.overloaded;
    out["fuses_in_the_way"] = row.in_the_way;
    return out;
}

Json guards_json(const GuardedHeater& heater) {
    Json out{{"heater", heater.heater}, {"turned_off_by", Json::array()}};
    for (const HeatGuard& guard : heater.guards)
        out["turned_off_by"].push_back({{"device", guard.device},
                                        {"acted_on_by", actuated_by_names.at(static_cast<std::size_t>(guard.by))},
                                        {"pins", guard.pins},
                                        {"through", guard.through},
                                        {"controls", guard.controls},
                                        {"sensors", guard.sensors},
                                        {"independent", guard.independent}});
    return out;
}

} // namespace

std::string fault_json(const FaultTable& table, std::string_view title, const Sources& sources,
                       const std::vector<FaultClass>& only) {
    Json out{{"trivet", 1}, {"title", title}, {"pairs", table.pairs}, {"summary", fault_tally(table)}};
    for (std::size_t i = 0; i < table.count.size(); ++i)
        out["counts"][std::string(fault_class_names[i])] = table.count[i];
    out["without_fault"] = table.sound ? row_json(*table.sound, sources) : Json(nullptr);
    out["running_too_hot"] = passed_json(table.running);
    if (table.pairs) out["pairs_no_worse"] = table.no_worse;
    out["heaters"] = Json::array();
    for (const GuardedHeater& heater : table.heaters) out["heaters"].push_back(guards_json(heater));
    out["faults"] = Json::array();
    for (const FaultRow& row : table.rows)
        if (only.empty() || std::ranges::find(only, row.outcome) != only.end())
            out["faults"].push_back(row_json(row, sources));
    out["caution"] = caution;
    return out.dump() + "\n";
}

} // namespace trivet
