#include "support/design_builder.h"

#include <array>
#include <cmath>
#include <stdexcept>

namespace trivet {

namespace {

std::string element_name(const Part& part, std::string_view kind) {
    std::size_t count = 1;
    for (const Element& element : part.elements)
        if (element_kind_names[element.body.index()] == kind) ++count;
    return count == 1 ? std::string(kind) : std::string(kind) + "-" + std::to_string(count);
}

ContactElement contact(Between between, bool rests_closed, std::string driven_by) {
    ContactElement made;
    made.between = between;
    made.rests_closed = rests_closed;
    made.by_hand = driven_by.empty();
    made.driven_by = std::move(driven_by);
    return made;
}

LoadElement load(LoadBehaviour behaviour) {
    LoadElement made;
    made.between = ends(0, 1);
    made.category = LoadCategory::electronics;
    made.behaviour = behaviour;
    return made;
}

} // namespace

DesignBuilder::DesignBuilder() { ambient(celsius(20.0), celsius(20.0)); }

PartId DesignBuilder::part(std::string name, const std::vector<std::string>& terminals,
                           std::vector<ElementBody> elements) {
    auto made = std::make_shared<Part>();
    made->name = "a-" + name;
    for (const std::string& terminal_name : terminals) {
        TerminalSpec spec;
        spec.name = terminal_name;
        made->terminals.push_back(std::move(spec));
    }
    for (ElementBody& body : elements) {
        const std::string_view kind = element_kind_names[body.index()];
        made->elements.push_back({element_name(*made, kind), std::move(body), {}});
    }
    const PartId id{static_cast<std::uint32_t>(design_.parts.size())};
    part_ids_.emplace(name, id);
    PartUse use;
    use.is = made->name;
    use.name = std::move(name);
    use.part = std::move(made);
    design_.parts.push_back(std::move(use));
    return id;
}

PartId DesignBuilder::supply(const std::string& name, Given<dim::voltage> voltage) {
    SourceElement source;
    source.between = ends(0, 1);
    source.voltage = voltage;
    return part(name, {"+", "-"}, {source});
}

PartId DesignBuilder::battery(const std::string& name, Given<dim::voltage> voltage, Perhaps<dim::resistance> internal) {
    SourceElement source;
    source.between = ends(0, 1);
    source.voltage = voltage;
    source.internal_resistance = internal;
    source.is_battery = true;
    return part(name, {"+", "-"}, {source});
}

PartId DesignBuilder::fuse(const std::string& name, Perhaps<dim::resistance> resistance, Perhaps<dim::current> rated) {
    FuseElement fuse;
    fuse.between = ends(0, 1);
    fuse.resistance = resistance;
    fuse.rated_current = rated;
    return part(name, {"in", "out"}, {fuse});
}

PartId DesignBuilder::cutoff(const std::string& name, Perhaps<dim::resistance> resistance) {
    CutoffElement cutoff;
    cutoff.between = ends(0, 1);
    cutoff.resistance = resistance;
    return part(name, {"in", "out"}, {cutoff});
}

PartId DesignBuilder::heater(const std::string& name, Perhaps<dim::resistance> resistance) {
    HeaterElement heater;
    heater.between = ends(0, 1);
    heater.resistance = resistance;
    return part(name, {"a", "b"}, {heater});
}

PartId DesignBuilder::resistor(const std::string& name, Given<dim::resistance> resistance) {
    return part(name, {"a", "b"}, {ResistorElement{ends(0, 1), resistance, {}}});
}

PartId DesignBuilder::diode(const std::string& name, Perhaps<dim::voltage> forward_voltage) {
    return part(name, {"a", "k"}, {DiodeElement{ends(0, 1), forward_voltage, {}, {}}});
}

PartId DesignBuilder::current_load(const std::string& name, Given<dim::current> current) {
    LoadElement made = load(LoadBehaviour::constant_current);
    made.current = current;
    return part(name, {"+", "-"}, {made});
}

PartId DesignBuilder::power_load(const std::string& name, Given<dim::power> power, Perhaps<dim::voltage> voltage) {
    LoadElement made = load(LoadBehaviour::constant_power);
    made.power = power;
    made.voltage = voltage;
    return part(name, {"+", "-"}, {made});
}

PartId DesignBuilder::hand_switch(const std::string& name, Perhaps<dim::resistance> resistance) {
    ContactElement made = contact(ends(0, 1), false, "");
    made.resistance = resistance;
    return part(name, {"in", "out"}, {made});
}

PartId DesignBuilder::transistor_module(const std::string& name, Perhaps<dim::resistance> on_resistance) {
    TransistorElement transistor;
    transistor.between = ends(0, 1);
    transistor.driven_by = "IN";
    transistor.reference = {3};
    transistor.on_resistance = on_resistance;
    InputElement input;
    input.terminal = {4};
    input.reference = {3};
    return part(name, {"a", "b", "VCC", "GND", "IN"}, {transistor, input});
}

PartId DesignBuilder::relay(const std::string& name, Given<dim::resistance> coil_resistance) {
    CoilElement coil;
    coil.between = ends(0, 1);
    coil.resistance = coil_resistance;
    return part(name, {"1", "2", "COM", "NO", "NC"},
                {coil, contact(ends(2, 3), false, "coil"), contact(ends(2, 4), true, "coil")});
}

PartId DesignBuilder::converter(const std::string& name, Topology topology, Given<dim::voltage> input,
                                Given<dim::voltage> output, Given<dim::number> efficiency,
                                Perhaps<dim::current> quiescent) {
    ConverterElement converter;
    converter.input = ends(0, 1);
    converter.output = ends(2, 3);
    converter.topology = topology;
    converter.input_voltage = input;
    converter.output_voltage = output;
    converter.efficiency = efficiency;
    converter.quiescent_current = quiescent;
    return part(name, {"in+", "in-", "out+", "out-"}, {converter});
}

WireId DesignBuilder::wire(std::string_view from_to, Perhaps<dim::length> metres, Perhaps<dim::area> square_metres) {
    const std::size_t arrow = from_to.find(" -> ");
    if (arrow == std::string_view::npos) throw std::invalid_argument("a wire is written \"a.x -> b.y\"");
    Wire made;
    made.name = "W" + std::to_string(design_.wires.size() + 1);
    made.from = terminal(from_to.substr(0, arrow));
    made.to = terminal(from_to.substr(arrow + 4));
    made.length = metres;
    made.made_of.area = square_metres;
    made.made_of.conductor_class = "class 5";
    design_.wires.push_back(std::move(made));
    return {static_cast<std::uint32_t>(design_.wires.size() - 1)};
}

WireId DesignBuilder::wire(std::string_view from_to, double metres, double square_millimetres) {
    const double square_metres = square_millimetres * 1e-6;
    return wire(from_to, given<dim::length>(metres, metres), given<dim::area>(square_metres, square_metres));
}

void DesignBuilder::wires(std::initializer_list<std::string_view> from_to) {
    for (const std::string_view one : from_to) wire(one, given<dim::length>(0.0, 0.0), given<dim::area>(1e-6, 1e-6));
}

void DesignBuilder::ambient(Temperature lo, Temperature hi) { design_.ambient.value = {lo, hi}; }

void DesignBuilder::never_with(std::string_view driven, std::string_view excluded) {
    Control control;
    control.name = "control " + std::to_string(design_.controls.size() + 1);
    control.drives = {part_called(driven)};
    control.never_with = {part_called(excluded)};
    design_.controls.push_back(std::move(control));
}

TerminalRef DesignBuilder::terminal(std::string_view name) const {
    const std::size_t dot = name.find('.');
    const PartId id = part_called(name.substr(0, dot));
    const int index = design_.part(id).part->terminal(name.substr(dot + 1));
    if (index < 0) throw std::invalid_argument("no terminal " + std::string(name));
    return {id, {static_cast<std::uint16_t>(index)}};
}

PartId DesignBuilder::part_called(std::string_view name) const {
    const auto found = part_ids_.find(name);
    if (found == part_ids_.end()) throw std::invalid_argument("no part " + std::string(name));
    return found->second;
}

std::optional<ResistancePerLength> class_5_resistance(const WireElement& wire) {
    struct Row {
        double square_millimetres;
        double ohms_per_kilometre;
    };
    constexpr std::array rows{Row{0.5, 39.0}, Row{0.75, 26.0}, Row{1.0, 19.5}, Row{1.5, 13.3},
                              Row{2.5, 7.98}, Row{4.0, 4.95},  Row{6.0, 3.30}};
    if (!wire.area) return std::nullopt;
    for (const Row& row : rows)
        if (std::abs(wire.area->range.lo.si * 1e6 - row.square_millimetres) < 1e-6)
            return ResistancePerLength{row.ohms_per_kilometre / 1000.0};
    return std::nullopt;
}

} // namespace trivet
