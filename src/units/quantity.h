#pragma once

#include "units/dimension.h"

#include <compare>

namespace trivet {

// A number with its dimension in the type; `si` is in coherent SI units (V, A, Ω, m², K, s, ...).
template <Dimension D> struct Quantity {
    double si = 0.0;

    friend constexpr auto operator<=>(const Quantity&, const Quantity&) = default;
};

namespace detail {
constexpr Dimension sum_dimension(Dimension a, Dimension b) { return a.point ? a : b; }
} // namespace detail

template <Dimension A, Dimension B>
requires(A* dim::number == B * dim::number && !(A.point && B.point)) constexpr auto operator+(Quantity<A> a,
                                                                                              Quantity<B> b) {
    return Quantity<detail::sum_dimension(A, B)>{a.si + b.si};
}

template <Dimension A, Dimension B>
requires(A* dim::number == B * dim::number && (A.point || !B.point)) constexpr auto operator-(Quantity<A> a,
                                                                                              Quantity<B> b) {
    constexpr Dimension difference = B.point ? A * dim::number : A;
    return Quantity<difference>{a.si - b.si};
}

template <Dimension D>
requires(!D.point) constexpr Quantity<D> operator-(Quantity<D> a) { return {-a.si}; }

template <Dimension A, Dimension B>
requires(!A.point && !B.point) constexpr auto operator*(Quantity<A> a, Quantity<B> b) {
    return Quantity<A * B>{a.si * b.si};
}

template <Dimension A, Dimension B>
requires(!A.point && !B.point) constexpr auto operator/(Quantity<A> a, Quantity<B> b) {
    return Quantity<A / B>{a.si / b.si};
}

template <Dimension D>
requires(!D.point) constexpr Quantity<D> operator*(double factor, Quantity<D> a) { return {factor * a.si}; }

template <Dimension D>
requires(!D.point) constexpr Quantity<D> operator*(Quantity<D> a, double factor) { return {factor * a.si}; }

template <Dimension D>
requires(!D.point) constexpr Quantity<D> operator/(Quantity<D> a, double divisor) { return {a.si / divisor}; }

using Number = Quantity<dim::number>;
using Length = Quantity<dim::length>;
using Area = Quantity<dim::area>;
using Mass = Quantity<dim::mass>;
using Time = Quantity<dim::time>;
using Current = Quantity<dim::current>;
using Voltage = Quantity<dim::voltage>;
using Resistance = Quantity<dim::resistance>;
using Conductance = Quantity<dim::conductance>;
using ResistancePerLength = Quantity<dim::resistance_per_length>;
using Power = Quantity<dim::power>;
using Energy = Quantity<dim::energy>;
using JouleIntegral = Quantity<dim::joule_integral>;
using Temperature = Quantity<dim::temperature>; // kelvin above absolute zero
using TemperatureDifference = Quantity<dim::temperature_difference>;
using ThermalResistance = Quantity<dim::thermal_resistance>;
using ThermalConductance = Quantity<dim::thermal_conductance>;
using HeatCapacity = Quantity<dim::heat_capacity>;
using Speed = Quantity<dim::speed>;
using PerKelvin = Quantity<dim::per_kelvin>;

inline constexpr double zero_celsius_in_kelvin = 273.15; // ITS-90 definition
constexpr Temperature celsius(double degrees) { return {degrees + zero_celsius_in_kelvin}; }
constexpr double in_celsius(Temperature t) { return t.si - zero_celsius_in_kelvin; }

// The same with the dimension at run time: what facts and rule expressions work on.
struct AnyQuantity {
    double si = 0.0;
    Dimension dimension;

    friend constexpr bool operator==(const AnyQuantity&, const AnyQuantity&) = default;
};

template <Dimension D> constexpr AnyQuantity any(Quantity<D> q) { return {q.si, D}; }

} // namespace trivet
