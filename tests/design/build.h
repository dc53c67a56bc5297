#pragma once

#include "design/read_design.h"

#include <fmt/format.h>

#include <string>
#include <string_view>

namespace trivet {

// Small parts for the tests of the design reader; values are plausible, nothing rests on them.
inline constexpr std::string_view test_parts = R"toml([supply]
title = "Supply, 24 V"
basis = "typical"
source = "common practice"
terminals = ["+", "-"]
[[supply.element]]
kind = "source"
between = ["+", "-"]
voltage = "23.5..24.5 V"
rated_current = "5 A"

[fuse]
title = "Fuse, 4 A"
basis = "typical"
source = "common practice"
terminals = ["in", "out"]
[[fuse.element]]
kind = "fuse"
between = ["in", "out"]
family = "blade"
rated_current = "4 A"

[plate]
title = "Heater plate"
basis = "typical"
source = "common practice"
terminals = ["A", "B", "S1", "S2"]
[[plate.element]]
kind = "heater"
between = ["A", "B"]
resistance = "8..11 ohm"
[[plate.element]]
kind = "thermistor"
between = ["S1", "S2"]
curve = "ntc"
resistance = "100 kohm"

[buck]
title = "Converter"
basis = "typical"
source = "common practice"
terminals = ["IN+", "OUT+", "GND"]
[[buck.element]]
kind = "converter"
input = ["IN+", "GND"]
output_terminals = ["OUT+", "GND"]
topology = "step-down"
adjustable = true

[board]
title = "Controller"
basis = "typical"
source = "common practice"
terminals = ["5V", "GND", "IO1", "IO2", "EN.1"]
[[board.element]]
kind = "pin"
terminals = ["IO1", "IO2"]
ground = "GND"
supply = "5V"

[aluminium]
title = "Aluminium"
basis = "typical"
source = "common practice"
terminals = []
[[aluminium.element]]
kind = "material"
density = "2700 kg/m3"

[wax]
title = "Wax"
basis = "typical"
source = "common practice"
terminals = []
[[wax.element]]
kind = "material"
specific_heat = "2.5 kJ/(kg K)"
touch = "plastic"
liquid = true

[fan]
title = "Fan"
basis = "typical"
source = "common practice"
temperature_limit = "70 °C"
terminals = ["+", "-"]
[[fan.element]]
kind = "load"
between = ["+", "-"]
category = "motor"
power = "2 W"

[cutoff]
title = "Thermostat"
basis = "typical"
source = "common practice"
terminals = ["in", "out"]
[[cutoff.element]]
kind = "cutoff"
between = ["in", "out"]
reset = "self"
trip = "85..95 °C"
reset_temperature = "65..75 °C"
response_time = "20 s"

["wire-1.0mm2"]
title = "Flexible wire"
basis = "standard"
source = "IEC 60228"
terminals = []
[["wire-1.0mm2".element]]
kind = "wire"
area = "1.0 mm2"
conductor_class = "class 5"
insulation = "pvc"
insulation_class = "70 °C"

[broken]
title = "A part with a mistake"
basis = "typical"
source = "common practice"
terminals = ["x"]
colour = "red"
)toml";

inline constexpr std::string_view design_start = R"(trivet = 1
[build]
title = "Test"
ambient = "10..35 °C"
[part.supply]
is = "supply"
[part.fuse]
is = "fuse"
[part.plate]
is = "plate"
)";

// "12:3 message [hint]" per line: what a failing test should show.
inline std::string to_text(const Errors& errors) {
    std::string text;
    for (const InputError& error : errors) {
        text += fmt::format("{}:{} {} [{}]\n", error.place.line, error.place.column, error.message, error.hint);
    }
    return text;
}

// A design text read against test_parts.
struct Build {
    explicit Build(std::string text, const DesignLimits& limits = {}) {
        catalog.add_file(sources, "test", "parts.toml", test_parts, false);
        design = read_design(sources.add("design.toml", std::move(text)), catalog, limits);
    }

    Sources sources;
    Catalog catalog;
    Loaded<Design> design;
};

} // namespace trivet
