#include "assess/gather.h"
#include "circuit/paths.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// What differs between the three kinds of branch that are loads.
struct LoadData {
    LoadCategory category{};
    bool polarised = false;
    Perhaps<dim::voltage> lowest;
    Perhaps<dim::voltage> highest;
    std::string_view highest_key = "voltage";
    PerhapsFlag suppressed;
};

LoadData data_of(const Element& element) {
    if (const auto* coil = std::get_if<CoilElement>(&element.body))
        return {LoadCategory::coil, false, coil->voltage, coil->voltage, "voltage", coil->suppressed};
    if (const auto* heater = std::get_if<HeaterElement>(&element.body))
        return {LoadCategory::resistive, false, heater->voltage, heater->voltage, "voltage", {}};
    const auto& load = std::get<LoadElement>(element.body);
    const bool has_limit = load.voltage_limit.has_value() && !load.voltage.has_value();
    return {load.category, !load.either_way, load.voltage, has_limit ? load.voltage_limit : load.voltage,
            "voltage",     load.suppressed};
}

// A diode across the load that conducts the spike when it is switched off: cathode on its plus side.
bool has_freewheel_diode(const Gathering& from, const Branch& load) {
    const auto& net = from.analysis.nets.of_node;
    return std::ranges::any_of(from.circuit().branches_of_island[from.island_of(load).value], [&](BranchId id) {
        const Branch& diode = from.branch(id);
        return diode.kind == BranchKind::diode && net[diode.to.value] == net[load.from.value] &&
               net[diode.from.value] == net[load.to.value];
    });
}

void write_clamp(SubjectWriter& writer, const Gathering& from, const Branch& branch, const LoadData& data) {
    const bool inductive = data.category == LoadCategory::motor || data.category == LoadCategory::coil;
    writer.truth("inductive", inductive);
    if (inductive && has_freewheel_diode(from, branch))
        writer.truth("clamped", true);
    else
        writer.flag("clamped", "suppressed", data.suppressed);
}

void write_drop(SubjectWriter& writer, const Gathering& from, BranchId id) {
    const auto& feeders = from.analysis.feeders[id.value];
    if (feeders.size() != 1) {
        const std::string why = is_fed(from.circuit(), id) ? "more than one supply feeds it" : "no supply feeds it";
        writer.unknown("voltage_drop", why);
        return writer.unknown("feeding_voltage", why);
    }
    const Branch& feeder = from.branch(feeders.front());
    const Parameter& volts = from.circuit().parameters[feeder.first_parameter];
    writer.number("feeding_voltage", {0.5 * (volts.lo + volts.hi), dim::voltage});
    auto missing = wires_without_length(from, id);
    if (!missing.empty()) return writer.unknown("voltage_drop", Unknown{std::move(missing), {}});
    write_current(writer, from, id, "voltage_drop",
                  from.analysis.envelope.probe[*from.analysis.drop_probe[id.value]].highest, dim::voltage);
}

// Of a part that may be connected either way, the amount.
void write_lowest_voltage(SubjectWriter& writer, const Gathering& from, BranchId id, bool polarised) {
    const Span& on = from.analysis.envelope.voltage_on[id.value];
    if (auto missing = wires_without_length(from, id); !missing.empty())
        return writer.unknown("lowest_voltage", Unknown{std::move(missing), {}});
    if (!is_reversed(from, id, on)) return write_current(writer, from, id, "lowest_voltage", on.lowest, dim::voltage);
    if (polarised)
        return writer.unknown("lowest_voltage",
                              subject_name(from, from.branch(id)) + " is connected the wrong way round");
    Extreme turned = on.highest;
    turned.value = -turned.value;
    write_current(writer, from, id, "lowest_voltage", turned, dim::voltage);
}

void gather_load(Gathering& to, BranchId id) {
    const Branch& branch = to.branch(id);
    const LoadData data = data_of(to.element_of(branch));
    const Envelope& envelope = to.analysis.envelope;
    SubjectWriter writer(to, SubjectKind::load, branch);
    writer.truth("is_heater", branch.kind == BranchKind::heater);
    writer.text("category", std::string(load_category_names[static_cast<std::size_t>(data.category)]));
    writer.truth("fed", is_fed(to.circuit(), id));
    writer.truth("polarised", data.polarised);
    write_current(writer, to, id, "highest_voltage", largest(envelope.voltage[id.value]), dim::voltage);
    write_lowest_voltage(writer, to, id, data.polarised);
    write_voltage(writer, to, id, "most_reversed_voltage", envelope.voltage[id.value].lowest);
    writer.lowest("rated_lowest_voltage", data.highest_key, data.lowest);
    writer.highest("rated_highest_voltage", data.highest_key, data.highest);
    write_drop(writer, to, id);
    writer.truth("switched", std::ranges::any_of(to.analysis.interrupters[id.value], [&](BranchId other) {
                     const BranchKind kind = to.branch(other).kind;
                     return kind == BranchKind::contact || kind == BranchKind::transistor;
                 }));
    write_clamp(writer, to, branch, data);
    write_collapse(writer, to, id);
}

} // namespace

void gather_loads(Gathering& to) {
    for (std::uint32_t i = 0; i < to.circuit().branches.size(); ++i) {
        const BranchKind kind = to.circuit().branches[i].kind;
        if (kind == BranchKind::load || kind == BranchKind::heater || kind == BranchKind::coil) gather_load(to, {i});
    }
}

} // namespace trivet
