#include "assess/divider_faults.h"

#include <algorithm>
#include <map>
#include <optional>

namespace trivet {

namespace {

class Dividers {
public:
    Dividers(const Design& design, const Analysis& analysis, const std::vector<FaultCase>& cases)
        : design_(design)
        , analysis_(analysis) {
        for (const Wire& wire : design.wires)
            for (const TerminalRef end : {wire.from, wire.to}) ++wires_at_[end];
        for (const FaultCase& fault : cases) {
            const auto* sensor = element<ThermistorElement>(fault);
            if (sensor == nullptr) continue;
            for (const TerminalIndex end : {sensor->between.first, sensor->between.second}) {
                const NetId net = net_of({fault.part, end});
                if (!is_read(net)) continue;
                Reading& reading = reading_at_[net.value];
                reading.other_end =
                    net_of({fault.part, end == sensor->between.first ? sensor->between.second : sensor->between.first});
                if (fault.mode == FaultMode::sensor_open) reading.sensor_off = fault.forced;
                if (fault.mode == FaultMode::sensor_shorted) reading.sensor_shorted = fault.forced;
            }
        }
    }

    std::vector<ForcedDriver> forced_by(const FaultCase& fault) const {
        if (const auto* resistor = element<ResistorElement>(fault))
            return forced_by(fault.part, *resistor, fault.mode == FaultMode::short_circuit);
        if (!fault.wire) return {};
        const Wire& wire = design_.wire(*fault.wire);
        for (const TerminalRef end : {wire.from, wire.to}) {
            if (wires_at_.at(end) != 1) continue;
            for (const Element& part_element : design_.part(end.part).part->elements) {
                const auto* resistor = std::get_if<ResistorElement>(&part_element.body);
                if (resistor == nullptr ||
                    (resistor->between.first != end.terminal && resistor->between.second != end.terminal))
                    continue;
                return forced_by(end.part, *resistor, false);
            }
        }
        return {};
    }

private:
    struct Reading {
        NetId other_end; // of the thermistor
        std::vector<ForcedDriver> sensor_off;
        std::vector<ForcedDriver> sensor_shorted;
    };

    template <class E> const E* element(const FaultCase& fault) const {
        if (!fault.element || fault.wire || fault.terminal) return nullptr;
        return std::get_if<E>(&design_.part(fault.part).part->elements[*fault.element].body);
    }
    NetId net_of(TerminalRef terminal) const { return analysis_.nets.net(analysis_.circuit, terminal); }

    bool is_read(NetId net) const {
        return std::ranges::any_of(analysis_.nets.terminals[net.value], [&](TerminalRef ref) {
            return std::ranges::any_of(design_.part(ref.part).part->elements, [&](const Element& of) {
                const auto* pin = std::get_if<PinElement>(&of.body);
                return pin != nullptr && pin->terminal == ref.terminal;
            });
        });
    }

    std::vector<ForcedDriver> forced_by(PartId part, const ResistorElement& resistor, bool shorted) const {
        const NetId first = net_of({part, resistor.between.first});
        const NetId second = net_of({part, resistor.between.second});
        for (const auto& [tap, other] : {std::pair(first, second), std::pair(second, first)}) {
            const auto found = reading_at_.find(tap.value);
            if (found == reading_at_.end() || found->second.other_end == other) continue;
            return shorted ? found->second.sensor_off : found->second.sensor_shorted;
        }
        return {};
    }

    const Design& design_;
    const Analysis& analysis_;
    std::map<TerminalRef, std::size_t> wires_at_;
    std::map<std::uint32_t, Reading> reading_at_; // by net
};

} // namespace

void follow_dividers(const Design& design, const Analysis& analysis, std::vector<FaultCase>& cases) {
    const Dividers dividers(design, analysis, cases);
    for (FaultCase& fault : cases)
        if (fault.forced.empty()) fault.forced = dividers.forced_by(fault);
}

} // namespace trivet
