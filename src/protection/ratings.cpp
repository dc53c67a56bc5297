#include "protection/ratings.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace trivet {

namespace {

class Ratings {
public:
    explicit Ratings(const Circuit& circuit)
        : circuit_(circuit)
        , of_island_(circuit.island_count) {}

    std::vector<std::vector<Rating>> take() { return std::move(of_island_); }

    void add_branch(BranchId id, const ElementBody& body) {
        std::visit([&](const auto& element) { add(id, element); }, body);
    }

    void add(BranchId id, Excess excess, std::optional<double> limit) {
        if (!limit) return;
        const Branch& branch = circuit_.branches[id.value];
        of_island_[circuit_.island_of_node[branch.from.value].value].push_back(
            {excess, id, {}, branch.from, branch.to, *limit});
    }

    void add_pin(PartId part, const PinElement& pin) {
        if (!pin.input_limit) return;
        const TerminalRef terminal{part, pin.terminal};
        const NodeId at = circuit_.node(terminal);
        const NodeId ground = circuit_.node({part, pin.ground});
        const IslandId island = circuit_.island_of_node[at.value];
        if (island != circuit_.island_of_node[ground.value]) return;
        of_island_[island.value].push_back(
            {Excess::pin_voltage, {}, terminal, at, ground, pin.input_limit->range.lo.si});
    }

private:
    template <Dimension D> static std::optional<double> highest(const Perhaps<D>& given) {
        return given ? std::optional(given->range.hi.si) : std::nullopt;
    }
    template <Dimension D> static std::optional<double> lowest(const Perhaps<D>& given) {
        return given ? std::optional(given->range.lo.si) : std::nullopt;
    }
    static std::optional<double> contact(const std::vector<ContactRating>& ratings) {
        std::optional<double> most;
        for (const ContactRating& rating : ratings) most = std::max(most.value_or(0.0), rating.rating.current.si);
        return most;
    }

    template <class E> void add(BranchId, const E&) {}
    void add(BranchId id, const FuseElement& e) { add(id, Excess::current, highest(e.rated_current)); }
    void add(BranchId id, const CutoffElement& e) { add(id, Excess::current, contact(e.rated)); }
    void add(BranchId id, const ContactElement& e) { add(id, Excess::current, contact(e.rated)); }
    void add(BranchId id, const TransistorElement& e) { add(id, Excess::current, lowest(e.rated_current)); }
    void add(BranchId id, const CoilElement& e) { add(id, Excess::voltage, highest(e.voltage)); }
    void add(BranchId id, const HeaterElement& e) { add(id, Excess::voltage, highest(e.voltage)); }
    void add(BranchId id, const ConductorElement& e) { add(id, Excess::current, lowest(e.rated_current)); }
    void add(BranchId id, const DiodeElement& e) { add(id, Excess::current, lowest(e.rated_current)); }
    void add(BranchId id, const ResistorElement& e) { add(id, Excess::power, lowest(e.rated_power)); }
    void add(BranchId id, const LoadElement& e) {
        add(id, Excess::voltage, e.voltage_limit ? lowest(e.voltage_limit) : highest(e.voltage));
    }
    void add(BranchId id, const ConverterElement& e) {
        add(id, Excess::voltage, e.input_limit ? lowest(e.input_limit) : highest(e.input_voltage));
        add(id, Excess::output_current, lowest(e.rated_output_current));
    }

    const Circuit& circuit_;
    std::vector<std::vector<Rating>> of_island_;
};

} // namespace

std::vector<std::vector<Rating>> ratings_by_island(const Circuit& circuit, const Design& design,
                                                   const WireRating& wire_rating) {
    Ratings ratings(circuit);
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (branch.kind == BranchKind::wire)
            ratings.add({i}, Excess::current, wire_rating ? wire_rating(branch.wire) : std::nullopt);
        else
            ratings.add_branch({i}, design.part(branch.part).part->elements[branch.element].body);
    }
    for (std::uint32_t part = 0; part < design.parts.size(); ++part)
        for (const Element& element : design.parts[part].part->elements)
            if (const auto* pin = std::get_if<PinElement>(&element.body)) ratings.add_pin({part}, *pin);
    return ratings.take();
}

double measured(const Rating& rating, const OperatingPoint& point, const CircuitParts& split) {
    const auto volts = [&](NodeId node) { return point.node_voltage[split.own_node[node.value].value]; };
    const double across = std::abs(volts(rating.from) - volts(rating.to));
    if (rating.excess == Excess::voltage || rating.excess == Excess::pin_voltage) return across;
    const std::uint32_t own = split.own_branch[rating.branch.value].value;
    if (rating.excess == Excess::output_current) return std::abs(point.output_current[own]);
    const double amperes = std::abs(point.branch_current[own]);
    return rating.excess == Excess::power ? across * amperes : amperes;
}

} // namespace trivet
