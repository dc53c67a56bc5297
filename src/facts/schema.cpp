#include "facts/schema.h"

namespace trivet {

namespace {

using enum SubjectKind;
constexpr ExprType truth = TruthType{};
constexpr ExprType text = TextType{};

// The one list of facts. Order within a kind is the order of `trivet explain facts`.
constexpr std::array schema{
    FactDeclaration{build, "mains_wired", truth, "A wire ends on a terminal that carries mains voltage."},
    FactDeclaration{build, "highest_voltage", dim::voltage,
                    "The highest voltage between any two points, supplies at their upper tolerance, nothing loaded."},

    FactDeclaration{supply, "is_battery", truth, "It is a battery: nothing limits its current but its own resistance."},
    FactDeclaration{supply, "isolated", truth,
                    "It is stated to be a bought, certified supply isolated from mains, or a battery."},
    FactDeclaration{supply, "current", dim::current,
                    "The highest current it delivers in any state, at the corner that draws most."},
    FactDeclaration{supply, "start_current", dim::current,
                    "The highest current at the moment of switching on, everything cold and starting at once."},
    FactDeclaration{supply, "reverse_current", dim::current,
                    "The highest current that other sources push back into it."},
    FactDeclaration{supply, "rated_current", dim::current, "What it may deliver for ever, as stated."},
    FactDeclaration{supply, "derated_current", dim::current,
                    "Its rated current at the hottest ambient the build allows."},
    FactDeclaration{supply, "limit_current", dim::current, "The lowest current at which its own limiting may set in."},
    FactDeclaration{supply, "unfused_length", dim::length,
                    "The longest run of wire from its plus terminal that meets no fuse; no limit when a way back meets "
                    "none at all."},

    FactDeclaration{wire, "current", dim::current,
                    "The highest current it carries in any state, at the corner that draws most."},
    FactDeclaration{wire, "area", dim::area, "Cross-section of its copper."},
    FactDeclaration{wire, "insulation", text, "Insulation material."},
    FactDeclaration{wire, "insulation_class", dim::temperature,
                    "The highest continuous temperature its insulation bears."},
    FactDeclaration{wire, "ambient", dim::temperature, "The hottest air along it."},
    FactDeclaration{wire, "loaded_circuits", dim::number,
                    "How many circuits in its bundle heat it, itself included: pairs of conductors that carry more "
                    "than 1 A per mm²."},
    FactDeclaration{wire, "fault_current", dim::current,
                    "The highest current a short circuit can draw through it, limited by the supplies' own limits."},
    FactDeclaration{
        wire, "fuse_operating_current", dim::current,
        "The current from which the tightest fuse in its circuit surely opens; no limit when there is no fuse."},
    FactDeclaration{wire, "let_through", dim::joule_integral,
                    "The most I²t its fuse lets through in a short circuit before it opens."},
    FactDeclaration{
        wire, "before_battery_fuse", truth,
        "It is part of the lead from a battery to its first fuse; how long that may be is a rule of its own."},
    FactDeclaration{wire, "outputs_joined", dim::number,
                    "How many outputs (supplies, converters, driving pins) it joins directly."},

    FactDeclaration{terminal, "needs_wire", truth, "Its part does not work without a wire here."},
    FactDeclaration{terminal, "wired", truth, "At least one wire ends here."},
    FactDeclaration{terminal, "kind", text, "How a wire is fastened: screw, spring, plug, ..."},
    FactDeclaration{terminal, "clamps", truth,
                    "It clamps the wire with a screw or a spring, so that its sizes matter."},
    FactDeclaration{terminal, "mates", truth,
                    "Current passes a contact or clamp here: screw, spring, plug, pin header or USB."},
    FactDeclaration{terminal, "wire_area", dim::area, "Cross-section of all wires that end here, together."},
    FactDeclaration{terminal, "smallest_area", dim::area, "The thinnest conductor it takes."},
    FactDeclaration{terminal, "largest_area", dim::area, "The thickest conductor it takes."},
    FactDeclaration{terminal, "current", dim::current, "The highest current through the wires that end here."},
    FactDeclaration{terminal, "rated_current", dim::current, "What its contact may carry."},
    FactDeclaration{terminal, "tinned_end", truth, "A wire end that was tinned with solder is put here."},

    FactDeclaration{fuse, "current", dim::current,
                    "The highest current it carries in any state, at the corner that draws most."},
    FactDeclaration{fuse, "family", text,
                    "Whose time-current gates it follows: blade, quick, time-lag, ul, resettable."},
    FactDeclaration{fuse, "rated_current", dim::current, "The current printed on it."},
    FactDeclaration{fuse, "rated_voltage", dim::voltage, "The DC voltage it can interrupt."},
    FactDeclaration{fuse, "breaking_capacity", dim::current, "The highest current it can interrupt safely."},
    FactDeclaration{fuse, "highest_voltage", dim::voltage,
                    "The highest voltage it may have to interrupt: of the supplies behind it."},
    FactDeclaration{fuse, "fault_current", dim::current, "The highest current a short circuit can draw through it."},
    FactDeclaration{fuse, "lowest_fault_current", dim::current,
                    "The lowest current that a dead short at the end of its circuit draws."},
    FactDeclaration{fuse, "operating_current", dim::current, "The current from which it surely opens."},

    FactDeclaration{contact, "feeds_heater", truth, "A heater's current passes it."},
    FactDeclaration{contact, "by_hand", truth, "It is worked by hand."},
    FactDeclaration{contact, "current", dim::current,
                    "The highest current it carries or breaks, start currents included."},
    FactDeclaration{contact, "voltage", dim::voltage, "The highest voltage across it when it opens."},
    FactDeclaration{contact, "load_category", text,
                    "The most demanding kind of load it switches: resistive, motor, coil, lamp, ..."},
    FactDeclaration{contact, "rated_current", dim::current, "Its DC rating for that kind of load at that voltage."},
    FactDeclaration{contact, "rated_voltage", dim::voltage,
                    "The highest DC voltage for which a rating is stated for that kind of load."},
    FactDeclaration{contact, "rests_open", truth, "Without drive it is open."},
    FactDeclaration{contact, "driven_by_pin", truth, "An electric signal drives it, not a hand."},
    FactDeclaration{contact, "open_in_reset", truth, "It is open while the controller is in reset or unplugged."},
    FactDeclaration{contact, "reset_remark", text,
                    "What holds it while the controller is in reset or unplugged, in words."},
    FactDeclaration{contact, "fault_current", dim::current, "The highest current a short circuit can draw through it."},
    FactDeclaration{
        contact, "fuse_operating_current", dim::current,
        "The current from which the tightest fuse in its circuit surely opens; no limit when there is no fuse."},

    FactDeclaration{transistor, "feeds_heater", truth, "A heater's current passes it."},
    FactDeclaration{transistor, "current", dim::current, "The highest current it carries in any state."},
    FactDeclaration{transistor, "rated_current", dim::current, "What it may carry for ever, as mounted."},
    FactDeclaration{transistor, "voltage", dim::voltage, "The highest voltage across it while it is off."},
    FactDeclaration{transistor, "rated_voltage", dim::voltage, "The voltage it can block."},
    FactDeclaration{transistor, "drive_voltage", dim::voltage,
                    "The lowest voltage its input gets when it is switched on."},
    FactDeclaration{transistor, "highest_drive_voltage", dim::voltage, "The highest voltage its input gets."},
    FactDeclaration{transistor, "drive_needed", dim::voltage,
                    "The input voltage at which its on-resistance is stated."},
    FactDeclaration{transistor, "drive_limit", dim::voltage, "The highest voltage its input bears."},
    FactDeclaration{transistor, "dissipation", dim::power, "The heat it makes at its highest current."},
    FactDeclaration{transistor, "thermal_resistance", dim::thermal_resistance,
                    "From its junction to the air, as mounted."},
    FactDeclaration{transistor, "ambient", dim::temperature, "The hottest air around it."},
    FactDeclaration{transistor, "junction_limit", dim::temperature, "The highest junction temperature it bears."},
    FactDeclaration{transistor, "turns_off_on_dc", truth, "It can interrupt direct current; AC types cannot."},
    FactDeclaration{transistor, "driven_by_pin", truth, "An electric signal drives it, not a hand."},
    FactDeclaration{transistor, "open_in_reset", truth, "It is off while the controller is in reset or unplugged."},
    FactDeclaration{transistor, "reset_remark", text,
                    "What holds it while the controller is in reset or unplugged, in words."},
    FactDeclaration{transistor, "fault_current", dim::current,
                    "The highest current a short circuit can draw through it."},
    FactDeclaration{
        transistor, "fuse_operating_current", dim::current,
        "The current from which the tightest fuse in its circuit surely opens; no limit when there is no fuse."},

    FactDeclaration{converter, "lowest_input", dim::voltage, "The lowest voltage at its input while it is fed."},
    FactDeclaration{converter, "highest_input", dim::voltage, "The highest voltage at its input."},
    FactDeclaration{converter, "most_reversed_input", dim::voltage,
                    "The lowest voltage at its input in any state; negative when it is connected the wrong way round."},
    FactDeclaration{converter, "rated_lowest_input", dim::voltage, "The lowest input voltage it works with."},
    FactDeclaration{converter, "rated_highest_input", dim::voltage, "The highest input voltage it bears in use."},
    FactDeclaration{converter, "output_voltage", dim::voltage, "The upper tolerance of the voltage it is set to."},
    FactDeclaration{converter, "dropout", dim::voltage, "How far its input must stay above its output."},
    FactDeclaration{converter, "steps_down", truth, "It can only lower the voltage (step-down or linear)."},
    FactDeclaration{converter, "output_current", dim::current, "The highest current drawn from its output."},
    FactDeclaration{converter, "rated_output_current", dim::current, "What its output may deliver for ever."},
    FactDeclaration{converter, "dissipation", dim::power,
                    "The heat it makes at its highest output current and least favourable input."},
    FactDeclaration{converter, "dissipation_limit", dim::power, "The heat it can get rid of as mounted."},
    FactDeclaration{converter, "collapses", truth, "In some state the line cannot deliver the power it asks for."},
    FactDeclaration{converter, "demanded_power", dim::power, "The power it asks for where the line collapses."},
    FactDeclaration{converter, "available_power", dim::power, "The most the line can deliver there: V²/4R."},

    FactDeclaration{load, "is_heater", truth, "It is a heater."},
    FactDeclaration{load, "category", text,
                    "What kind of load it is: resistive, electronics, motor, coil, lamp, capacitive."},
    FactDeclaration{load, "fed", truth, "Both its ends reach a supply when every switch is closed."},
    FactDeclaration{load, "polarised", truth, "It only bears its voltage one way round."},
    FactDeclaration{load, "highest_voltage", dim::voltage, "The highest voltage across it in any state."},
    FactDeclaration{load, "lowest_voltage", dim::voltage, "The lowest voltage across it while it is on."},
    FactDeclaration{load, "most_reversed_voltage", dim::voltage,
                    "The lowest voltage across it in any state; negative when it is connected the wrong way round."},
    FactDeclaration{load, "rated_lowest_voltage", dim::voltage, "The lowest voltage it works with."},
    FactDeclaration{load, "rated_highest_voltage", dim::voltage, "The highest voltage it works with."},
    FactDeclaration{load, "voltage_drop", dim::voltage,
                    "What the outgoing and the return conductor, switches and fuses together take away."},
    FactDeclaration{load, "feeding_voltage", dim::voltage,
                    "The nominal voltage of the supply or converter that feeds it."},
    FactDeclaration{load, "switched", truth, "A contact or transistor switches it."},
    FactDeclaration{load, "inductive", truth,
                    "It is a motor or coil, which answers being switched off with a voltage spike."},
    FactDeclaration{load, "clamped", truth, "A diode or a built-in clamp takes up that spike."},
    FactDeclaration{load, "collapses", truth, "In some state the line cannot deliver the power it asks for."},
    FactDeclaration{load, "demanded_power", dim::power, "The power it asks for where the line collapses."},
    FactDeclaration{load, "available_power", dim::power, "The most the line can deliver there: V²/4R."},

    FactDeclaration{heater, "highest_voltage", dim::voltage, "The highest voltage across it in any state."},
    FactDeclaration{heater, "rated_voltage", dim::voltage, "The upper end of the voltage it is made for."},
    FactDeclaration{heater, "highest_power", dim::power, "The most it takes: highest voltage, lowest resistance."},
    FactDeclaration{heater, "interrupting_cutoffs", dim::number,
                    "How many thermal cutoffs interrupt all its current, whatever else is closed."},
    FactDeclaration{heater, "independent_cutoffs", dim::number,
                    "How many of them share no part, sensor or firmware with what controls it."},
    FactDeclaration{heater, "cutoff_remark", text, "Why the cutoffs of the design do not count for it, in words."},

    FactDeclaration{cutoff, "in_heater_path", truth, "It interrupts all current of at least one heater."},
    FactDeclaration{cutoff, "current", dim::current, "The highest current it carries in any state."},
    FactDeclaration{cutoff, "voltage", dim::voltage,
                    "The highest voltage it has to interrupt: of the supplies behind it."},
    FactDeclaration{cutoff, "rated_current", dim::current, "Its DC rating at that voltage."},
    FactDeclaration{cutoff, "rated_voltage", dim::voltage, "The highest DC voltage for which a rating is stated."},

    FactDeclaration{pin, "drive_current", dim::current, "What the inputs, coils and loads on it draw when it drives."},
    FactDeclaration{pin, "output_current", dim::current, "What the pin may deliver or take."},

    FactDeclaration{
        sensor, "ground_shift", dim::voltage,
        "The highest voltage that other currents cause between its ground and the ground of the board that reads it."},
};

} // namespace

std::span<const FactDeclaration> fact_schema() { return schema; }

FactsOfKind facts_of(SubjectKind subject) {
    constexpr auto ranges = [] {
        std::array<FactsOfKind, subject_kind_names.size()> found{};
        for (std::uint16_t i = 0; i < schema.size(); ++i) {
            FactsOfKind& range = found[static_cast<std::size_t>(schema[i].subject)];
            if (range.count++ == 0) range.first = i;
        }
        return found;
    }();
    return ranges[static_cast<std::size_t>(subject)];
}

FactLookup find_fact(SubjectKind subject, std::string_view name) {
    const FactsOfKind range = facts_of(subject);
    for (std::uint16_t i = range.first; i < range.first + range.count; ++i)
        if (schema[i].name == name) return {true, FactId{i}};
    return {};
}

} // namespace trivet
