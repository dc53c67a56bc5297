#include "circuit/branch_values.h"
#include "circuit/circuit.h"
#include "circuit/union_find.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <variant>

namespace trivet {

namespace {

// What each kind of element is as a branch, in the order of ElementBody.
constexpr std::array<std::optional<BranchKind>, std::variant_size_v<ElementBody>> branch_kinds{
    BranchKind::source,     BranchKind::fuse,           BranchKind::cutoff,    BranchKind::contact,
    BranchKind::transistor, std::nullopt /*input*/,     BranchKind::coil,      BranchKind::converter,
    BranchKind::heater,     BranchKind::load,           BranchKind::conductor, BranchKind::diode,
    BranchKind::resistor,   BranchKind::thermistor,     std::nullopt /*pin*/,  std::nullopt /*signal*/,
    std::nullopt /*wire*/,  std::nullopt /*capacitor*/, std::nullopt /*material*/};

bool is_plain_joint(const Element& element) {
    const auto* conductor = std::get_if<ConductorElement>(&element.body);
    return conductor != nullptr && !conductor->resistance;
}

Between ends_of(const ElementBody& body) {
    return std::visit(
        [](const auto& element) -> Between {
            if constexpr (requires { element.between; })
                return element.between;
            else if constexpr (requires { element.input; })
                return element.input;
            else
                return {unset_terminal, unset_terminal};
        },
        body);
}

class Builder {
public:
    Builder(const Design& design, const ConductorResistance& resistance_per_length)
        : design_(&design)
        , resistance_per_length_(&resistance_per_length) {}

    Circuit build() {
        number_nodes();
        count_ends();
        for (std::uint32_t i = 0; i < design_->parts.size(); ++i) add_part({i});
        for (std::uint32_t i = 0; i < design_->wires.size(); ++i) add_wire({i});
        name_drivers();
        number_islands();
        return std::move(circuit_);
    }

private:
    void number_nodes();
    void count_ends();
    bool is_bypassed(PartId part, const ConverterElement& converter) const;
    void add_part(PartId id);
    void add_wire(WireId id);
    void add_values(Branch& branch, const BranchValues& values, const std::string& owner);
    void name_drivers();
    void number_islands();
    DriverId driver_of(PartId part, const std::string& driven_by);
    NodeId node(PartId part, TerminalIndex terminal) const { return circuit_.node({part, terminal}); }

    const Design* design_;
    const ConductorResistance* resistance_per_length_;
    Circuit circuit_;
    std::vector<std::uint32_t> ends_at_; // [node]: ends of elements and wires
};

void Builder::number_nodes() {
    std::vector<std::uint32_t> first_terminal;
    std::uint32_t terminals = 0;
    for (const PartUse& use : design_->parts) {
        first_terminal.push_back(terminals);
        terminals += static_cast<std::uint32_t>(use.part->terminals.size());
    }
    UnionFind joined(terminals);
    for (std::size_t i = 0; i < design_->parts.size(); ++i) {
        for (const Element& element : design_->parts[i].part->elements) {
            if (!is_plain_joint(element)) continue;
            const Between between = ends_of(element.body);
            joined.join(first_terminal[i] + between.first.value, first_terminal[i] + between.second.value);
        }
    }
    const std::vector<std::uint32_t> number = joined.numbered(circuit_.node_count);
    for (std::size_t i = 0; i < design_->parts.size(); ++i) {
        auto& nodes = circuit_.terminal_nodes.emplace_back();
        const std::size_t count = design_->parts[i].part->terminals.size();
        for (std::size_t t = 0; t < count; ++t) nodes.push_back({number[first_terminal[i] + t]});
    }
}

void Builder::count_ends() {
    ends_at_.resize(circuit_.node_count);
    for (std::uint32_t i = 0; i < design_->parts.size(); ++i) {
        for (const Element& element : design_->parts[i].part->elements) {
            if (!branch_kinds[element.body.index()] || is_plain_joint(element)) continue;
            const Between ends = ends_of(element.body);
            for (const TerminalIndex end : {ends.first, ends.second}) ++ends_at_[node({i}, end).value];
            if (const auto* converter = std::get_if<ConverterElement>(&element.body))
                ++ends_at_[node({i}, converter->output.first).value];
        }
    }
    for (const Wire& wire : design_->wires)
        for (const TerminalRef end : {wire.from, wire.to}) ++ends_at_[circuit_.node(end).value];
}

// A board that is fed behind its own regulator, whose input nothing meets: the regulator neither takes nor gives.
bool Builder::is_bypassed(PartId part, const ConverterElement& converter) const {
    const bool on_a_board = std::ranges::any_of(design_->part(part).part->elements, [](const Element& element) {
        return std::holds_alternative<PinElement>(element.body);
    });
    return on_a_board && ends_at_[node(part, converter.input.first).value] == 1;
}

// A part with one heater has a "plate resistance"; one with two has a "plate heater-2 resistance" as well.
std::string owner_name(const PartUse& use, const Element& element) {
    std::size_t same = 0;
    for (const Element& other : use.part->elements)
        if (other.body.index() == element.body.index()) ++same;
    return same > 1 ? fmt::format("{} {}", use.name, element.name) : use.name;
}

template <Dimension D> double highest(const Perhaps<D>& given) { return given ? given->range.hi.si : 0.0; }

// How the element behaves beside its uncertain numbers.
void set_behaviour(Branch& branch, const ElementBody& body) {
    if (const auto* load = std::get_if<LoadElement>(&body)) {
        branch.behaviour = load->behaviour;
        if (load->voltage) branch.working_voltage = load->voltage->range.middle().si;
    } else if (const auto* converter = std::get_if<ConverterElement>(&body)) {
        branch.topology = converter->topology;
        branch.dropout = highest(converter->dropout);
        if (converter->input_voltage) branch.working_voltage = converter->input_voltage->range.lo.si;
    } else if (const auto* diode = std::get_if<DiodeElement>(&body)) {
        if (diode->rated_current) branch.rated_current = diode->rated_current->range.lo.si;
    }
}

BranchValues values_of(const Design& design, const PartUse& use, const ElementBody& body) {
    const auto* sensor = std::get_if<ThermistorElement>(&body);
    if (sensor == nullptr) return branch_values(body);
    const Range<dim::temperature> air = use.ambient ? use.ambient->value : design.ambient.value;
    return sensor_values(*sensor, air, !use.mounted_on_name.empty());
}

void Builder::add_part(PartId id) {
    const PartUse& use = design_->part(id);
    for (std::size_t i = 0; i < use.part->elements.size(); ++i) {
        const Element& element = use.part->elements[i];
        const auto kind = branch_kinds[element.body.index()];
        if (!kind || is_plain_joint(element)) continue;
        const auto* converter = std::get_if<ConverterElement>(&element.body);
        if (converter != nullptr && is_bypassed(id, *converter)) continue;
        const Between ends = ends_of(element.body);
        Branch branch;
        branch.kind = *kind;
        branch.from = node(id, ends.first);
        branch.to = node(id, ends.second);
        branch.part = id;
        branch.element = static_cast<std::uint16_t>(i);
        if (converter != nullptr) {
            branch.output_from = node(id, converter->output.first);
            branch.output_to = node(id, converter->output.second);
        } else if (const auto* contact = std::get_if<ContactElement>(&element.body)) {
            branch.driver = driver_of(id, contact->driven_by);
            branch.rests_closed = contact->rests_closed;
        } else if (const auto* transistor = std::get_if<TransistorElement>(&element.body)) {
            branch.driver = driver_of(id, transistor->driven_by);
        }
        set_behaviour(branch, element.body);
        add_values(branch, values_of(*design_, use, element.body), owner_name(use, element));
        circuit_.branches.push_back(branch);
    }
}

void Builder::add_wire(WireId id) {
    const Wire& wire = design_->wire(id);
    Branch branch;
    branch.kind = BranchKind::wire;
    branch.from = circuit_.node(wire.from);
    branch.to = circuit_.node(wire.to);
    branch.wire = id;
    BranchValues values;
    values.add("resistance", wire_resistance(wire, *design_, *resistance_per_length_));
    add_values(branch, values, wire.name);
    circuit_.wire_branch.push_back({static_cast<std::uint32_t>(circuit_.branches.size())});
    circuit_.branches.push_back(branch);
}

void Builder::add_values(Branch& branch, const BranchValues& values, const std::string& owner) {
    branch.first_parameter = static_cast<std::uint32_t>(circuit_.parameters.size());
    branch.parameters = static_cast<std::uint8_t>(values.count);
    branch.start_factor = values.start_factor;
    for (std::size_t i = 0; i < values.count; ++i) {
        circuit_.parameters.push_back(values.named[i].parameter);
        std::string& name = circuit_.parameter_names.emplace_back(owner);
        name += ' ';
        name += values.named[i].quantity;
    }
}

// The drivers of the part at hand stand at the end of the list.
DriverId Builder::driver_of(PartId part, const std::string& driven_by) {
    std::size_t index = circuit_.drivers.size();
    while (index > 0 && circuit_.drivers[index - 1].part == part) {
        --index;
        if (circuit_.drivers[index].driven_by == driven_by) return {static_cast<std::uint32_t>(index)};
    }
    circuit_.drivers.push_back({part, {}, driven_by, driven_by.empty()});
    return {static_cast<std::uint32_t>(circuit_.drivers.size() - 1)};
}

void Builder::name_drivers() {
    std::vector<Driver>& drivers = circuit_.drivers;
    for (std::size_t i = 0; i < drivers.size(); ++i) {
        const bool alone = (i == 0 || drivers[i - 1].part != drivers[i].part) &&
                           (i + 1 == drivers.size() || drivers[i + 1].part != drivers[i].part);
        const std::string& part = design_->part(drivers[i].part).name;
        drivers[i].name = alone ? part : fmt::format("{}.{}", part, drivers[i].by_hand ? "hand" : drivers[i].driven_by);
    }
}

void Builder::number_islands() {
    UnionFind joined(circuit_.node_count);
    for (const Branch& branch : circuit_.branches) {
        joined.join(branch.from.value, branch.to.value);
        if (branch.kind != BranchKind::converter) continue;
        joined.join(branch.from.value, branch.output_from.value);
        joined.join(branch.from.value, branch.output_to.value);
    }
    const std::vector<std::uint32_t> number = joined.numbered(circuit_.island_count);
    for (const std::uint32_t island : number) circuit_.island_of_node.push_back({island});
    circuit_.branches_of_island.resize(circuit_.island_count);
    for (std::uint32_t i = 0; i < circuit_.branches.size(); ++i)
        circuit_.branches_of_island[number[circuit_.branches[i].from.value]].push_back({i});
}

} // namespace

Circuit build_circuit(const Design& design, const ConductorResistance& resistance_per_length) {
    return Builder(design, resistance_per_length).build();
}

} // namespace trivet
