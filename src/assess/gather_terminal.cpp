#include "assess/gather.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace trivet {

namespace {

using WiresAt = std::map<TerminalRef, std::vector<WireId>>;

WiresAt wires_at_terminals(const Design& design) {
    WiresAt at;
    for (std::uint32_t i = 0; i < design.wires.size(); ++i) {
        at[design.wires[i].from].push_back({i});
        at[design.wires[i].to].push_back({i});
    }
    return at;
}

// Terminals without which an element does nothing. Contacts may leave a throw unused; a controller's own regulator may
// be bypassed by feeding it at its lower voltage, and otherwise feeds that terminal itself; pins may stay free.
struct NeededTerminals {
    const Part& part;
    std::set<TerminalIndex> needed;

    void both(const Between& pair) { needed.insert({pair.first, pair.second}); }

    void operator()(const SourceElement& e) { both(e.between); }
    void operator()(const FuseElement& e) { both(e.between); }
    void operator()(const CutoffElement& e) { both(e.between); }
    void operator()(const TransistorElement& e) { both(e.between); }
    void operator()(const CoilElement& e) { both(e.between); }
    void operator()(const HeaterElement& e) { both(e.between); }
    void operator()(const LoadElement& e) { both(e.between); }
    void operator()(const DiodeElement& e) { both(e.between); }
    void operator()(const ResistorElement& e) { both(e.between); }
    void operator()(const ThermistorElement& e) { both(e.between); }
    void operator()(const SignalElement& e) { needed.insert(e.terminal); }
    void operator()(const InputElement& e) { needed.insert(e.terminal); }
    void operator()(const ConverterElement& e) {
        if (!on_a_board()) both(e.input);
    }
    bool on_a_board() const {
        return std::ranges::any_of(part.elements,
                                   [](const Element& other) { return std::holds_alternative<PinElement>(other.body); });
    }
    template <class Other> void operator()(const Other&) {}
};

std::set<TerminalIndex> needed_terminals(const Part& part) {
    NeededTerminals collect{part, {}};
    for (const Element& element : part.elements) std::visit(collect, element.body);
    // A board's own regulator feeds what hangs on its output.
    for (const Element& element : part.elements)
        if (const auto* converter = std::get_if<ConverterElement>(&element.body))
            if (collect.on_a_board()) collect.needed.erase(converter->output.first);
    return collect.needed;
}

// Current through the clamp or contact: of the strongest wire, or what the part takes there if that is more. The part
// takes no more than its elements could draw together, and no more than the wires bring together.
Extreme terminal_current(const Gathering& from, TerminalRef ref, const std::vector<WireId>& wires) {
    Extreme strongest{0.0, 0, 0};
    double brought = 0.0;
    for (const WireId wire : wires) {
        const Extreme current = largest(from.analysis.envelope.current[from.circuit().wire_branch[wire.value].value]);
        if (std::isnan(current.value)) continue;
        brought += current.value;
        if (current.value > strongest.value) strongest = current;
    }
    const NodeId node = from.circuit().node(ref);
    double drawn = 0.0;
    for (const BranchId id : from.analysis.branches_of_part[ref.part.value]) {
        const Branch& branch = from.branch(id);
        if (branch.from != node && branch.to != node) continue;
        const double current = largest(from.analysis.envelope.current[id.value]).value;
        if (!std::isnan(current)) drawn += current;
    }
    strongest.value = std::max(strongest.value, std::min(drawn, brought));
    return strongest;
}

bool clamps(TerminalKind kind) { return kind == TerminalKind::screw || kind == TerminalKind::spring; }

bool mates(TerminalKind kind) {
    return clamps(kind) || kind == TerminalKind::plug || kind == TerminalKind::pin_header || kind == TerminalKind::usb;
}

void write_wires(SubjectWriter& writer, const Gathering& from, TerminalRef ref, const std::vector<WireId>& wires) {
    double area = 0.0;
    bool area_missing = false;
    bool any_end_stated = false;
    bool tinned = false;
    for (const WireId id : wires) {
        const Wire& wire = from.design.wire(id);
        area_missing = area_missing || !wire.made_of.area;
        if (wire.made_of.area) area += wire.made_of.area->range.hi.si;
        const WireEnd end = wire.from == ref ? wire.from_end : wire.to_end;
        any_end_stated = any_end_stated || end != WireEnd::unstated;
        tinned = tinned || end == WireEnd::tinned;
    }
    if (area_missing)
        writer.absent("wire_area", "area of the wires");
    else
        writer.number("wire_area", {area, dim::area});
    if (any_end_stated)
        writer.truth("tinned_end", tinned);
    else
        writer.absent("tinned_end", "ends of the wires");
    write_current(writer, from, from.circuit().wire_branch[wires.front().value], "current",
                  terminal_current(from, ref, wires));
}

void write_terminal(Gathering& to, TerminalRef ref, bool needed, bool wired, const std::vector<WireId>& wires) {
    const PartUse& use = to.design.part(ref.part);
    const TerminalSpec& spec = use.part->terminals[ref.terminal.value];
    SubjectWriter writer(to, SubjectKind::terminal, to.design.terminal_name(ref), use.place, "[part." + use.name + "]");
    writer.truth("needs_wire", needed);
    writer.truth("wired", wired);
    writer.text("kind", std::string(terminal_kind_names[static_cast<std::size_t>(spec.kind)]));
    writer.truth("clamps", clamps(spec.kind));
    writer.truth("mates", mates(spec.kind));
    const std::string key = "terminal.\"" + spec.name + "\"";
    writer.lowest("smallest_area", key + ".area", spec.area);
    writer.highest("largest_area", key + ".area", spec.area);
    writer.lowest("rated_current", key + ".rated_current", spec.rated_current);
    if (!wires.empty()) return write_wires(writer, to, ref, wires);
    writer.number("wire_area", {0.0, dim::area});
    writer.number("current", {0.0, dim::current});
    writer.absent("tinned_end", "ends of the wires");
}

} // namespace

void gather_terminals(Gathering& to) {
    const WiresAt at = wires_at_terminals(to.design);
    std::vector<bool> node_wired(to.circuit().node_count, false);
    for (const auto& [ref, wires] : at) node_wired[to.circuit().node(ref).value] = true;
    std::map<const Part*, std::set<TerminalIndex>> needed_of;
    for (std::uint32_t i = 0; i < to.design.parts.size(); ++i) {
        const Part* part = to.design.parts[i].part.get();
        const auto cached = needed_of.find(part);
        const auto& needed =
            cached != needed_of.end() ? cached->second : needed_of.emplace(part, needed_terminals(*part)).first->second;
        for (std::uint16_t t = 0; t < part->terminals.size(); ++t) {
            const TerminalRef ref{{i}, {t}};
            const auto wires = at.find(ref);
            const bool is_needed = needed.contains({t});
            if (wires == at.end() && !is_needed) continue;
            write_terminal(to, ref, is_needed, node_wired[to.circuit().node(ref).value],
                           wires == at.end() ? std::vector<WireId>{} : wires->second);
        }
    }
}

} // namespace trivet
