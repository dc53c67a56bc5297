#include "bench/many_builds.h"

#include <fmt/format.h>

#include <array>
#include <string_view>
#include <utility>

namespace trivet::bench {

namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 12> parts{
    {{"supply", "supply-24v-5a"},
     {"fuse", "fuse-blade-4a"},
     {"logic_fuse", "fuse-blade-1a"},
     {"cutoff", "thermostat-manual-reset-dc-90c"},
     {"plate", "heater-plate-24v-40w"},
     {"gate", "mosfet-module-low-side-60v-10a"},
     {"buck", "converter-buck-3a"},
     {"board", "controller-3v3-wifi"},
     {"fan", "fan-24v-80mm"},
     {"fan_gate", "mosfet-module-low-side-60v-10a"},
     {"probe", "thermistor-ntc-10k-b3950"},
     {"divider", "resistor-10k"}}};

struct Line {
    std::string_view from;
    std::string_view to;
    std::string_view area;
};

constexpr std::array<Line, 20> wires{
    {{"supply.+", "fuse.in", "1.0 mm2"},        {"fuse.out", "cutoff.in", "1.0 mm2"},
     {"cutoff.out", "plate.a", "1.0 mm2"},      {"plate.b", "gate.OUT-", "1.0 mm2"},
     {"gate.VIN-", "supply.-", "1.0 mm2"},      {"supply.+", "logic_fuse.in", "1.0 mm2"},
     {"logic_fuse.out", "buck.IN+", "0.5 mm2"}, {"buck.IN-", "supply.-", "0.5 mm2"},
     {"buck.OUT+", "board.5V", "0.5 mm2"},      {"buck.OUT-", "board.GND", "0.5 mm2"},
     {"logic_fuse.out", "fan.+", "0.5 mm2"},    {"fan.-", "fan_gate.OUT-", "0.5 mm2"},
     {"fan_gate.VIN-", "supply.-", "0.5 mm2"},  {"board.IO16", "gate.IN", "0.25 mm2"},
     {"board.IO17", "fan_gate.IN", "0.25 mm2"}, {"board.3V3", "divider.a", "0.25 mm2"},
     {"divider.b", "board.IO34", "0.25 mm2"},   {"probe.a", "board.IO34", "0.25 mm2"},
     {"probe.b", "board.GND", "0.25 mm2"},      {"fuse.out", "gate.VIN+", "1.0 mm2"}}};

std::string numbered(std::string_view terminal, std::size_t copy) {
    const std::size_t dot = terminal.find('.');
    return fmt::format("{}{}{}", terminal.substr(0, dot), copy, terminal.substr(dot));
}

std::string heat_of(std::size_t copy) {
    return fmt::format("[[control]]\nname = \"hold {0}\"\nsenses = \"probe{0}\"\ndrives = \"gate{0}\"\n"
                       "setpoint = \"50 °C\"\nband = \"1 K\"\n"
                       "[[body]]\nname = \"metal{0}\"\nheated_by = \"plate{0}\"\ncapacity = \"{1} J/K\"\n"
                       "[[body]]\nname = \"tray{0}\"\ncapacity = \"800 J/K\"\nlimit = \"90 °C\"\n"
                       "[[heat_path]]\nfrom = \"metal{0}\"\nto = \"tray{0}\"\nconductance = \"1..1.5 W/K\"\n"
                       "[[heat_path]]\nfrom = \"tray{0}\"\nto = \"ambient\"\nconductance = \"0.6 W/K\"\n",
                       copy, 300 + copy);
}

} // namespace

std::string many_warm_builds(std::size_t count) {
    std::string text = many_builds(count);
    const std::size_t copies = (count + wires.size() - 1) / wires.size();
    for (std::size_t copy = 0; copy < copies; ++copy) {
        for (const std::string_view part : {"cutoff", "probe"}) {
            const std::string head = fmt::format("[part.{}{}]\n", part, copy);
            text.insert(text.find(head) + head.size(), fmt::format("mounted_on = \"plate{}\"\n", copy));
        }
        text += heat_of(copy);
    }
    return text;
}

std::string many_builds(std::size_t count) {
    std::string text = "trivet = 1\n[build]\ntitle = \"Many builds\"\nambient = \"10..35 °C\"\n";
    const std::size_t copies = (count + wires.size() - 1) / wires.size();
    for (std::size_t copy = 0; copy < copies; ++copy) {
        for (const auto& [name, is] : parts) {
            text += fmt::format("[part.{}{}]\nis = \"{}\"\n", name, copy, is);
            if (name == "buck") text += "output = \"5 V\"\n";
        }
        for (const Line& line : wires)
            text += fmt::format(
                "[[wire]]\nfrom = \"{}\"\nto = \"{}\"\narea = \"{}\"\ninsulation = \"pvc\"\nlength = \"40 cm\"\n",
                numbered(line.from, copy), numbered(line.to, copy), line.area);
    }
    return text;
}

} // namespace trivet::bench
