#pragma once

#include "design/design.h"

#include <functional>
#include <initializer_list>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace trivet {

// Numbers for elements: SI units, one value or the two ends of a range.
template <Dimension D> Given<D> given(double lo, double hi) { return {{{lo}, {hi}}, {}, Basis::measured}; }
inline Given<dim::voltage> volts(double lo, double hi) { return given<dim::voltage>(lo, hi); }
inline Given<dim::voltage> volts(double value) { return volts(value, value); }
inline Given<dim::current> amperes(double lo, double hi) { return given<dim::current>(lo, hi); }
inline Given<dim::current> amperes(double value) { return amperes(value, value); }
inline Given<dim::resistance> ohms(double lo, double hi) { return given<dim::resistance>(lo, hi); }
inline Given<dim::resistance> ohms(double value) { return ohms(value, value); }
inline Given<dim::power> watts(double lo, double hi) { return given<dim::power>(lo, hi); }
inline Given<dim::power> watts(double value) { return watts(value, value); }
inline Given<dim::number> numbers(double lo, double hi) { return given<dim::number>(lo, hi); }
inline Given<dim::number> number(double value) { return numbers(value, value); }

// Terminals by their place in the part's list.
inline Between ends(std::uint16_t first, std::uint16_t second) { return {{first}, {second}}; }

// A design written in code: parts with terminals and elements, and wires "supply.+ -> fuse.in". Unknown names throw.
// The air is at 20 °C unless stated, so that wire resistances are those of the tables.
class DesignBuilder {
public:
    DesignBuilder();

    PartId part(std::string name, const std::vector<std::string>& terminals, std::vector<ElementBody> elements);

    // The usual parts in their shortest form; terminals in brackets.
    PartId supply(const std::string& name, Given<dim::voltage> voltage); // + -
    PartId battery(const std::string& name, Given<dim::voltage> voltage,
                   Perhaps<dim::resistance> internal); // + -
    PartId fuse(const std::string& name, Perhaps<dim::resistance> resistance = {},
                Perhaps<dim::current> rated = {});                                                           // in out
    PartId cutoff(const std::string& name, Perhaps<dim::resistance> resistance = {});                        // in out
    PartId heater(const std::string& name, Perhaps<dim::resistance> resistance);                             // a b
    PartId resistor(const std::string& name, Given<dim::resistance> resistance);                             // a b
    PartId diode(const std::string& name, Perhaps<dim::voltage> forward_voltage = {});                       // a k
    PartId current_load(const std::string& name, Given<dim::current> current);                               // + -
    PartId power_load(const std::string& name, Given<dim::power> power, Perhaps<dim::voltage> voltage = {}); // + -
    PartId hand_switch(const std::string& name, Perhaps<dim::resistance> resistance = {});                   // in out
    // A logic-driven transistor: its switched path is a b, its logic side VCC GND IN draws nothing.
    PartId transistor_module(const std::string& name, Perhaps<dim::resistance> on_resistance = {}); // a b VCC GND IN
    // A change-over relay with a bare coil: coil 1 2, contacts COM NO NC.
    PartId relay(const std::string& name, Given<dim::resistance> coil); // 1 2 COM NO NC
    PartId converter(const std::string& name, Topology topology, Given<dim::voltage> input, Given<dim::voltage> output,
                     Given<dim::number> efficiency, Perhaps<dim::current> quiescent = {}); // in+ in- out+ out-

    WireId wire(std::string_view from_to, Perhaps<dim::length> metres = {}, Perhaps<dim::area> square_metres = {});
    WireId wire(std::string_view from_to, double metres, double square_millimetres);
    void wires(std::initializer_list<std::string_view> from_to); // of no length

    void ambient(Temperature lo, Temperature hi);
    void never_with(std::string_view driven, std::string_view excluded); // a [[control]] with both

    TerminalRef terminal(std::string_view name) const; // "fuse.in"
    PartId part_called(std::string_view name) const;
    const Design& design() const { return design_; }
    Design& design() { return design_; }

private:
    Design design_;
    std::map<std::string, PartId, std::less<>> part_ids_;
};

// Largest resistance at 20 °C of flexible copper conductors: IEC 60228 table 3, class 5, plain wires, 0.5 to 6 mm².
std::optional<ResistancePerLength> class_5_resistance(const WireElement& wire);

} // namespace trivet
