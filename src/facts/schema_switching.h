#pragma once

#include "facts/schema_words.h"

#include <array>

namespace trivet::declared {

// Facts of what switches, converts and takes current. A row a fact; order within a kind is the order of `trivet explain
// facts`.
constexpr std::array switching_facts{
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
    FactDeclaration{contact, "cycled", truth, "A control of the design works it."},
    FactDeclaration{
        contact, "operations_per_hour", dim::number,
        "How often an hour its control closes it at most, over all ambients and supply voltages; a proportional "
        "one each time it looks."},
    FactDeclaration{contact, "endurance", dim::number, "How many operations it bears at its rated load."},
    FactDeclaration{contact, "life", dim::time, "How long it lasts at that rate: endurance over operations per hour."},

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
};

} // namespace trivet::declared
