#include "catalog/sensor_curve.h"
#include "published/published.h"

#include <cmath>

namespace trivet::published {
namespace {

struct Point {
    double celsius;
    double ohms;
};

struct Reading {
    double celsius;
    double counts;
};

Given<dim::resistance> ohms(double value) { return {{{value}, {value}}, {}, Basis::datasheet}; }

ThermistorElement ntc(double at_reference, double beta, double reference = 25.0) {
    ThermistorElement made;
    made.curve = SensorCurve::ntc;
    made.resistance = ohms(at_reference);
    made.reference = Given<dim::temperature>{exactly(celsius(reference)), {}, Basis::datasheet};
    made.beta = Given<dim::temperature_difference>{exactly(TemperatureDifference{beta}), {}, Basis::datasheet};
    made.range = Given<dim::temperature>{{celsius(-50.0), celsius(300.0)}, {}, Basis::datasheet};
    return made;
}

double ohms_at(const ThermistorElement& sensor, double t) {
    return sensor_resistance(sensor, exactly(celsius(t))).value().lo.si;
}

double celsius_at(const ThermistorElement& sensor, double resistance) {
    return in_celsius(sensor_temperature(sensor, {resistance}).value().lo);
}

// The thermistor's resistance behind a 10-bit reading under a pull-up of 4.7 kohm.
double behind(double counts) { return 4700.0 * counts / (1023.0 - counts); }

// A public printer-firmware table for bed thermistors of 100 kohm, B25 = 3950 K. Real parts follow a table of their
// own; the B equation stays within 1 K of it.
TEST(Thermistor, BedSensorOf3950Kelvin) {
    for (const Reading& row : {Reading{17, 991},
                               {28, 971},
                               {51, 901},
                               {57, 871},
                               {72, 791},
                               {79, 751},
                               {90, 681},
                               {95, 641},
                               {105, 571},
                               {111, 531},
                               {123, 451},
                               {133, 391},
                               {150, 301}})
        expect_printed(celsius_at(ntc(100e3, 3950.0), behind(row.counts)), row.celsius, 1.0, label("°C", row.celsius));
}

// The same firmware's table for 100 kohm, B25 = 4092 K. Within 2 K from 25 °C up; at 0 °C, where one count is 1.2 K,
// within 2.5 K.
TEST(Thermistor, BedSensorOf4092Kelvin) {
    for (const Reading& row : {Reading{0, 1008},
                               {25, 977},
                               {40, 939},
                               {60, 857},
                               {70, 801},
                               {90, 665},
                               {100, 591},
                               {120, 445},
                               {130, 379},
                               {150, 268}})
        expect_printed(celsius_at(ntc(100e3, 4092.0), behind(row.counts)), row.celsius, row.celsius < 25.0 ? 2.5 : 2.0,
                       label("°C", row.celsius));
}

// A service manual's table of a 10 kohm sensor with a tolerance of 4.7 %; its B of 3979 K is that between its 25 and 90
// °C rows.
TEST(Thermistor, ServiceManualTable) {
    for (const Point& row : {Point{20, 12490}, {25, 10000}, {55, 2986}, {60, 2488}, {90, 917.7}, {95, 788.5}})
        expect_printed(ohms_at(ntc(10e3, 3979.0), row.celsius), row.ohms, 0.047 * row.ohms, label("°C", row.celsius));
}

// A sensor's data sheet: 10 kohm, B25/100 = 3730 K. Below the range of its B the equation is up to 2 K off.
TEST(Thermistor, DataSheetOf3730Kelvin) {
    for (const Point& row : {Point{-20, 82923}, {0, 30029}, {5, 23773}, {15, 15207}, {20, 12280}})
        expect_printed(celsius_at(ntc(10e3, 3730.0), row.ohms), row.celsius, row.celsius < 0.0 ? 2.0 : 1.0,
                       label("°C", row.celsius));
}

// An instrument manual, table A.1: 9814 ohm at 25 °C; its B of 3928 K is that between its 25 and 50 °C rows.
TEST(Thermistor, InstrumentManualTable) {
    for (const Point& row : {Point{0, 32128}, {20, 12262}, {25, 9814}, {40, 5331}, {50, 3542}})
        expect_printed(ohms_at(ntc(9814.0, 3928.0), row.celsius), row.ohms, 0.025 * row.ohms, label("°C", row.celsius));
}

// A maker's "standardized R/T characteristics", introduction: 10687.3 ohm at 5 °C with 4.4 %/K there (B = alpha T²)
// become 0.9163 of it at 7 °C.
TEST(Thermistor, MakersIntroductionExample) {
    const double beta = 0.044 * 278.15 * 278.15;
    const ThermistorElement sensor = ntc(10687.3, beta, 5.0);
    expect_printed(ohms_at(sensor, 7.0) / ohms_at(sensor, 5.0), 0.9163, 5e-5, "5 to 7 °C");
}

// The B equation (IEC 60539-1, from memory) by hand, to the last digit.
TEST(Thermistor, EquationByHandFromMemory) {
    for (const Point& row : {Point{0, 336206},
                             {20, 125353},
                             {25, 100000},
                             {40, 53015},
                             {50, 35882},
                             {70, 17598},
                             {80, 12703},
                             {100, 6975},
                             {110, 5291}})
        expect_remembered(ohms_at(ntc(100e3, 3950.0), row.celsius), row.ohms, 0.51, label("°C", row.celsius));
    for (const Point& row : {Point{0, 28704}, {25, 10000}, {75, 1912}, {85, 1451}})
        expect_remembered(ohms_at(ntc(10e3, 3435.0), row.celsius), row.ohms, 0.51, label("°C", row.celsius));
    // One percent more resistance at 60 °C reads 0.279 K colder.
    expect_remembered(celsius_at(ntc(100e3, 3950.0), 1.01 * ohms_at(ntc(100e3, 3950.0), 60.0)) - 60.0, -0.279, 0.003,
                      "kelvin");
}

// A maker's table of a 10 kohm part with B25/85 = 3435 K: the equation meets it at 25 and 85 °C, stays within
// 1.1 K from 10 °C up, and is 5 % high at 0 °C and 14 % (2.5 K) at -20 °C.
TEST(Thermistor, TableOf3435KelvinFromMemory) {
    for (const Point& row : {Point{-20, 67770},
                             {-10, 42470},
                             {0, 27280},
                             {10, 17960},
                             {20, 12090},
                             {25, 10000},
                             {30, 8313},
                             {40, 5827},
                             {50, 4160},
                             {60, 3020},
                             {70, 2228},
                             {80, 1668},
                             {85, 1451},
                             {90, 1266},
                             {100, 973.1},
                             {110, 757.6}})
        expect_remembered(celsius_at(ntc(10e3, 3435.0), row.ohms), row.celsius, row.celsius < 10.0 ? 2.6 : 1.1,
                          label("°C", row.celsius));
}

} // namespace
} // namespace trivet::published
