#include "assess/drive.h"
#include "assess/gather.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace trivet {

namespace {

// The most demanding kind of load behind a contact decides its rating.
LoadCategory category_behind(const Gathering& from, const std::vector<BranchId>& loads) {
    constexpr std::array by_demand{LoadCategory::motor, LoadCategory::coil, LoadCategory::lamp,
                                   LoadCategory::capacitive, LoadCategory::electronics};
    const auto category = [&](BranchId id) {
        const Branch& branch = from.branch(id);
        if (branch.kind == BranchKind::coil) return LoadCategory::coil;
        if (branch.kind == BranchKind::converter) return LoadCategory::electronics;
        if (branch.kind != BranchKind::load) return LoadCategory::resistive;
        return std::get<LoadElement>(from.element_of(branch).body).category;
    };
    for (const LoadCategory worst : by_demand)
        if (std::ranges::any_of(loads, [&](BranchId id) { return category(id) == worst; })) return worst;
    return LoadCategory::resistive;
}

bool feeds_heater(const Gathering& from, const std::vector<BranchId>& loads) {
    return std::ranges::any_of(loads, [&](BranchId id) { return from.branch(id).kind == BranchKind::heater; });
}

void write_reset(SubjectWriter& writer, const Gathering& from, BranchId id, const Drive& drive) {
    writer.truth("driven_by_pin", drive.pin.has_value() || drive.input != nullptr || drive.coil.has_value());
    writer.text("reset_remark", reset_remark(from, id, drive));
    const auto open = open_in_reset(from, id);
    if (const auto* known = std::get_if<bool>(&open))
        writer.truth("open_in_reset", *known);
    else
        writer.unknown("open_in_reset", std::get<Unknown>(open));
}

void write_drive_voltage(SubjectWriter& writer, const Gathering& from, const Drive& drive) {
    if (!drive.pin) {
        for (const auto fact : {"drive_voltage", "highest_drive_voltage"})
            writer.unknown(fact, "no controller pin is wired to its input");
        return;
    }
    const auto& high = drive.pin->pin->output_high;
    if (!high) {
        const Unknown missing = not_stated("output_high", drive.pin->name,
                                           fmt::format("[part.{}]", from.design.part(drive.pin->board).name));
        writer.unknown("drive_voltage", missing);
        writer.unknown("highest_drive_voltage", missing);
        return;
    }
    writer.lowest("drive_voltage", "output_high", high);
    writer.highest("highest_drive_voltage", "output_high", high);
}

void write_dissipation(SubjectWriter& writer, const Gathering& from, BranchId id, const TransistorElement& transistor) {
    const Extreme current = largest(from.analysis.envelope.current[id.value]);
    if (!transistor.on_resistance && !transistor.on_voltage) return writer.absent("dissipation", "on_resistance");
    Extreme heat = current;
    const double ohms = transistor.on_resistance ? transistor.on_resistance->range.hi.si : 0.0;
    const double volts = transistor.on_voltage ? transistor.on_voltage->range.hi.si : 0.0;
    heat.value = current.value * current.value * ohms + current.value * volts;
    write_current(writer, from, id, "dissipation", heat, dim::power);
}

Extreme open_voltage(const Gathering& from, BranchId id) {
    const Extreme open = largest(from.analysis.envelope.voltage_open[id.value]);
    return std::isnan(open.value) ? unloaded_voltage(from, id) : open;
}

// A throw that is not used has no wire at one of its ends.
bool is_used(const Gathering& from, const Branch& branch) {
    const auto wired = [&](NodeId node) {
        return !from.analysis.nets.wires[from.analysis.nets.of_node[node.value].value].empty();
    };
    return wired(branch.from) && wired(branch.to);
}

} // namespace

void write_contact_rating(SubjectWriter& writer, const std::vector<ContactRating>& rated, LoadCategory category,
                          double volts) {
    const bool like_resistive = category == LoadCategory::electronics || category == LoadCategory::capacitive;
    const LoadCategory asked = like_resistive ? LoadCategory::resistive : category;
    const ContactRating* highest = nullptr; // by voltage
    const ContactRating* fitting = nullptr; // most current among those that reach the voltage
    for (const ContactRating& rating : rated) {
        const bool stands_in = asked == LoadCategory::motor && rating.category == LoadCategory::coil;
        if (rating.rating.alternating || (rating.category != asked && !stands_in)) continue;
        if (highest == nullptr || rating.rating.voltage > highest->rating.voltage) highest = &rating;
        const bool reaches = rating.rating.voltage.si >= volts;
        if (reaches && (fitting == nullptr || rating.rating.current > fitting->rating.current)) fitting = &rating;
    }
    if (highest == nullptr) {
        const std::string_view kind = load_category_names[static_cast<std::size_t>(asked)];
        const std::string key = fmt::format("a DC rating for {} loads", kind);
        const std::string how = fmt::format(" as rated = {{ {} = [\"5 A at 24 V DC\"] }}",
                                            asked == LoadCategory::coil ? "inductive" : kind);
        writer.absent("rated_voltage", key, how);
        return writer.absent("rated_current", key, how);
    }
    const ContactRating& decides = fitting != nullptr ? *fitting : *highest;
    const Certainty certainty = SubjectWriter::certainty_of(decides.basis);
    writer.number("rated_voltage", any(highest->rating.voltage), highest->place,
                  SubjectWriter::certainty_of(highest->basis));
    writer.number("rated_current", any(decides.rating.current), decides.place, certainty);
}

void gather_contacts(Gathering& to) {
    for_each_element<ContactElement>(to, BranchKind::contact, [&](BranchId id, const ContactElement& contact) {
        const Branch& branch = to.branch(id);
        if (!is_used(to, branch)) return;
        SubjectWriter writer(to, SubjectKind::contact, branch);
        const std::vector<BranchId>& loads = to.analysis.loads_behind[id.value];
        writer.truth("feeds_heater", feeds_heater(to, loads));
        writer.truth("by_hand", contact.by_hand);
        Extreme current = largest(to.analysis.envelope.current[id.value]);
        const Extreme starting = largest(to.analysis.envelope.start_current[id.value]);
        if (starting.value > current.value) current = starting;
        write_current(writer, to, id, "current", current);
        const Extreme open = open_voltage(to, id);
        write_voltage(writer, to, id, "voltage", open);
        const LoadCategory category = category_behind(to, loads);
        writer.text("load_category", std::string(load_category_names[static_cast<std::size_t>(category)]));
        write_contact_rating(writer, contact.rated, category, open.value);
        writer.truth("rests_open", !contact.rests_closed);
        write_reset(writer, to, id, find_drive(to, id));
        write_fault(writer, to, id);
        write_cycling(writer, to, id, contact);
    });
}

void gather_transistors(Gathering& to) {
    for_each_element<TransistorElement>(
        to, BranchKind::transistor, [&](BranchId id, const TransistorElement& transistor) {
            const Branch& branch = to.branch(id);
            if (!is_used(to, branch)) return;
            SubjectWriter writer(to, SubjectKind::transistor, branch);
            const Drive drive = find_drive(to, id);
            writer.truth("feeds_heater", feeds_heater(to, to.analysis.loads_behind[id.value]));
            write_current(writer, to, id, "current", largest(to.analysis.envelope.current[id.value]));
            writer.lowest("rated_current", "rated_current", transistor.rated_current);
            write_voltage(writer, to, id, "voltage", open_voltage(to, id));
            writer.lowest("rated_voltage", "rated_voltage", transistor.rated_voltage);
            write_drive_voltage(writer, to, drive);
            const auto& needed =
                transistor.drive_needed || drive.input == nullptr ? transistor.drive_needed : drive.input->on_voltage;
            writer.highest("drive_needed", "drive_needed", needed);
            writer.lowest("drive_limit", "drive_limit", transistor.drive_limit);
            write_dissipation(writer, to, id, transistor);
            writer.highest("thermal_resistance", "thermal_resistance", transistor.thermal_resistance);
            writer.number("ambient", any(hottest_ambient(to.design, to.part_of(branch))));
            writer.lowest("junction_limit", "junction_limit", transistor.junction_limit);
            writer.truth("turns_off_on_dc", transistor.turns_off_on_dc);
            write_reset(writer, to, id, drive);
            write_fault(writer, to, id);
        });
}

} // namespace trivet
