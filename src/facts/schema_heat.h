#pragma once

#include "facts/schema_words.h"

#include <array>

namespace trivet::declared {

// Facts of what heats, guards and senses heat. A row a fact; order within a kind is the order of `trivet explain
// facts`.
constexpr std::array heat_facts{
    FactDeclaration{heater, "highest_voltage", dim::voltage, "The highest voltage across it in any state."},
    FactDeclaration{heater, "rated_voltage", dim::voltage, "The upper end of the voltage it is made for."},
    FactDeclaration{heater, "highest_power", dim::power, "The most it takes: highest voltage, lowest resistance."},
    FactDeclaration{heater, "interrupting_cutoffs", dim::number,
                    "How many thermal cutoffs interrupt all its current, whatever else is closed."},
    FactDeclaration{heater, "independent_cutoffs", dim::number,
                    "How many of them share no part, sensor or firmware with what controls it."},
    FactDeclaration{heater, "cutoff_remark", text, "Why the cutoffs of the design do not count for it, in words."},
    FactDeclaration{heater, "breaches", dim::number,
                    "In how many ways its current gets past every working cutoff when one other part is shorted or its "
                    "insulation fails against bonded metal, or both."},
    FactDeclaration{heater, "breach", text, "The first of them, in words."},
    FactDeclaration{heater, "signal_detours", dim::number,
                    "How many wires of boards and sensors carry its current when one return wire is off."},
    FactDeclaration{heater, "signal_detour", text, "The worst of them, in words."},
    FactDeclaration{heater, "described", truth, "It heats a body of the design."},
    FactDeclaration{heater, "stuck_temperature", dim::temperature,
                    "How hot its body gets when every switch sticks on and nothing stops it, in the worst situation "
                    "the design allows."},

    FactDeclaration{cutoff, "in_heater_path", truth, "It interrupts all current of at least one heater."},
    FactDeclaration{cutoff, "current", dim::current, "The highest current it carries in any state."},
    FactDeclaration{cutoff, "voltage", dim::voltage,
                    "The highest voltage it has to interrupt: of the supplies behind it."},
    FactDeclaration{cutoff, "rated_current", dim::current, "Its DC rating at that voltage."},
    FactDeclaration{cutoff, "rated_voltage", dim::voltage, "The highest DC voltage for which a rating is stated."},
    FactDeclaration{cutoff, "place", text, "The body it is in thermal contact with."},
    FactDeclaration{cutoff, "on_heated_body", truth,
                    "That body is heated by a heater it interrupts, or takes heat from it over heat paths."},
    FactDeclaration{cutoff, "one_shot", truth, "It is a thermal link that opens once."},
    FactDeclaration{cutoff, "resets_itself", truth, "It closes again by itself when it has cooled."},
    FactDeclaration{cutoff, "regulates", truth, "It is what regulates the heater in normal running."},
    FactDeclaration{cutoff, "leads_crimped", truth, "Both of its leads are crimped or clamped, not soldered."},
    FactDeclaration{cutoff, "lowest_trip", dim::temperature, "The lowest temperature at which it may open."},
    FactDeclaration{cutoff, "highest_trip", dim::temperature, "The highest temperature at which it may open."},
    FactDeclaration{cutoff, "holding_temperature", dim::temperature,
                    "The highest temperature a one-shot link bears for long without ageing open."},
    FactDeclaration{cutoff, "normal_temperature", dim::temperature,
                    "The hottest its place gets while the controls work."},
    FactDeclaration{cutoff, "stuck_temperature", dim::temperature,
                    "The hottest its place gets with its heater stuck on and nothing to stop it."},
    FactDeclaration{cutoff, "highest_safe_trip", dim::temperature,
                    "The highest trip temperature that keeps every limit when its heater sticks on, its lag and the "
                    "heat still under way included; no limit when every fault is harmless."},
    FactDeclaration{cutoff, "closed_by", text, "The limit that sets its highest safe trip temperature."},
    FactDeclaration{cutoff, "operating_time", dim::time,
                    "From the moment its heater sticks on in normal running until it opens, at the hot extreme; no "
                    "limit when it never does."},
    FactDeclaration{cutoff, "endurance", dim::number, "How many operations it bears."},
    FactDeclaration{cutoff, "cycling_life", dim::time,
                    "How long it lasts opening and closing by itself on a heater that is stuck on."},
    FactDeclaration{cutoff, "attended", truth, "Someone is in the room while the build heats."},
    FactDeclaration{cutoff, "backed_up", truth,
                    "Another independent cutoff that does not reset itself interrupts the same heaters."},

    FactDeclaration{pin, "drive_current", dim::current, "What the inputs, coils and loads on it draw when it drives."},
    FactDeclaration{pin, "output_current", dim::current, "What the pin may deliver or take."},

    FactDeclaration{
        sensor, "ground_shift", dim::voltage,
        "The highest voltage that other currents cause between its ground and the ground of the board that reads it."},

    FactDeclaration{body, "normal_temperature", dim::temperature,
                    "The hottest it gets while the controls work: warming up and settled, hot extreme, every situation "
                    "the design allows."},
    FactDeclaration{body, "stuck_temperature", dim::temperature,
                    "The hottest it gets when every switch sticks on and nothing stops it."},
    FactDeclaration{body, "guarded_temperature", dim::temperature,
                    "The hottest it gets when every switch sticks on and the independent cutoffs open at their highest "
                    "trip temperature, or just fail to notice."},
    FactDeclaration{body, "limit", dim::temperature, "The highest temperature it bears: stated, or its material's."},
    FactDeclaration{body, "limited_by", text, "Whose limit that is, in words."},
    FactDeclaration{body, "touchable", truth, "Somebody can touch it while it is hot."},
    FactDeclaration{body, "touch_class", text, "Its surface: metal, ceramic, plastic or wood."},
    FactDeclaration{body, "touched_for", dim::time,
                    "The longest contact to reckon with: stated, or touch_time of the policy."},
    FactDeclaration{body, "liquid", truth, "It is a liquid in use."},
    FactDeclaration{body, "electronics_below", dim::number,
                    "How many parts its liquid would reach when it leaks or boils over."},
    FactDeclaration{body, "parts_below", text, "Those parts, by name."},

    FactDeclaration{control, "reaches_setpoint", truth,
                    "With the lowest supply voltage, in the coldest room, its heaters reach the setpoint."},
    FactDeclaration{control, "cold_temperature", dim::temperature,
                    "How warm the sensed body gets on average at the cold extreme."},
    FactDeclaration{control, "setpoint", dim::temperature, "The temperature it is to hold, upper end."},
    FactDeclaration{control, "time_to_setpoint", dim::time,
                    "From cold to the setpoint at the cold extreme; no limit when it never gets there."},
    FactDeclaration{control, "overshoot", dim::temperature_difference,
                    "How far the sensed body gets above the setpoint, hot extreme."},
    FactDeclaration{control, "band_held", dim::temperature_difference,
                    "From trough to peak of the sensed body, once settled."},
    FactDeclaration{control, "cold_duty", dim::number, "The share of time it heats at the cold extreme."},
    FactDeclaration{control, "hot_duty", dim::number, "The share of time it heats at the hot extreme."},
    FactDeclaration{control, "mean_power", dim::power,
                    "What holding the setpoint takes on average at the cold extreme."},
    FactDeclaration{control, "energy_per_hour", dim::energy, "That power over an hour."},
    FactDeclaration{control, "drives_heater", truth, "A heater hangs on what it drives."},
    FactDeclaration{control, "sees_heater", truth, "Heat of what it drives reaches its sensor over heat paths."},
    FactDeclaration{control, "states_firmware_limit", truth, "The design states a limit in its firmware."},
    FactDeclaration{control, "firmware_limit", dim::temperature, "That limit; it is never counted."},
    FactDeclaration{control, "independent_cutoffs", dim::number,
                    "The fewest independent cutoffs that any heater it drives has."},

    FactDeclaration{part, "place", text, "The body it sits on or beside."},
    FactDeclaration{part, "beside", truth, "It has no contact with that body; it counts as just as hot."},
    FactDeclaration{part, "is_heater", truth, "It is a heater itself."},
    FactDeclaration{part, "temperature_limit", dim::temperature, "The hottest place it may sit at for ever."},
    FactDeclaration{part, "normal_temperature", dim::temperature,
                    "The hottest that body gets while the controls work."},
    FactDeclaration{part, "guarded_temperature", dim::temperature,
                    "The hottest that body gets when every switch sticks on, the independent cutoffs at work."},
};

} // namespace trivet::declared
