#include "parts/library.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace trivet::testing {
namespace {

// Below, an unstated value is below everything: nobody can contradict it.
template <Dimension D> bool below(const Perhaps<D>& lower, const Perhaps<D>& upper) {
    return !lower || !upper || lower->range.hi <= upper->range.lo;
}

// How much higher the resistance is in use than when cold.
double hottest_over_cold(const HeaterElement& heater) {
    double factor = heater.cold_factor ? heater.cold_factor->range.hi.si : 1.0;
    if (heater.temperature_coefficient && heater.working_temperature) {
        const double rise = (heater.working_temperature->range.hi - celsius(20.0)).si;
        factor *= 1.0 + std::max(0.0, heater.temperature_coefficient->range.hi.si * rise);
    }
    return factor;
}

// Joule's law, P = V²/R: the stated power range must overlap what voltage and resistance give.
TEST(PartRatings, HeatersObeyJoule) {
    const std::size_t heaters = for_each_of<HeaterElement>([](const Part& part, const HeaterElement& heater) {
        if (heater.temperature_coefficient) {
            EXPECT_LT(std::abs(heater.temperature_coefficient->range.hi.si), 0.01) << part.name;
        }
        if (!heater.voltage || !heater.power || !heater.resistance) return;
        const double volts = heater.voltage->range.middle().si;
        const double most = volts * volts / heater.resistance->range.lo.si * 1.1;
        const double least = volts * volts / (heater.resistance->range.hi.si * hottest_over_cold(heater)) * 0.9;
        EXPECT_LE(heater.power->range.lo.si, most) << part.name;
        EXPECT_GE(heater.power->range.hi.si, least) << part.name;
    });
    EXPECT_GE(heaters, 50U);
}

TEST(PartRatings, SuppliesLimitAboveTheirRating) {
    const std::size_t sources = for_each_of<SourceElement>([](const Part& part, const SourceElement& source) {
        EXPECT_TRUE(below(source.rated_current, source.limit_current)) << part.name;
        EXPECT_TRUE(source.isolated && source.isolated->value) << part.name << ": only bought, isolated sources";
        if (source.voltage) {
            EXPECT_LE(source.voltage->range.hi.si, 60.0) << part.name << ": SELV ends at 60 V";
        }
    });
    EXPECT_GE(sources, 80U);
}

TEST(PartRatings, FusesBreakMoreThanTheyCarry) {
    const std::size_t fuses = for_each_of<FuseElement>([](const Part& part, const FuseElement& fuse) {
        ASSERT_TRUE(fuse.rated_current) << part.name;
        if (fuse.breaking_capacity) {
            EXPECT_GT(fuse.breaking_capacity->range.lo.si, fuse.rated_current->range.hi.si) << part.name;
        }
        // A fuse that drops more than 2 V or heats with more than 6 W at its rating would be another part.
        if (fuse.resistance) {
            const double amperes = fuse.rated_current->range.lo.si;
            EXPECT_LT(fuse.resistance->range.hi.si * amperes, 2.0) << part.name;
            EXPECT_LT(fuse.resistance->range.hi.si * amperes * amperes, 6.0) << part.name;
        }
    });
    EXPECT_GE(fuses, 70U);
}

// A contact breaks less current at a higher direct voltage (arcs burn longer), and less with an inductive load.
void expect_ratings_fall(const Part& part, const std::vector<ContactRating>& rated) {
    for (const ContactRating& a : rated) {
        for (const ContactRating& b : rated) {
            if (a.rating.alternating != b.rating.alternating) continue;
            if (a.category == b.category && a.rating.voltage < b.rating.voltage) {
                EXPECT_GE(a.rating.current, b.rating.current) << part.name;
            }
            if (a.category == LoadCategory::resistive && a.rating.voltage == b.rating.voltage) {
                EXPECT_GE(a.rating.current, b.rating.current) << part.name;
            }
        }
    }
}

TEST(PartRatings, ContactRatingsFallWithVoltage) {
    EXPECT_GE(for_each_of<ContactElement>([](const Part& part, const ContactElement& contact) {
                  expect_ratings_fall(part, contact.rated);
                  EXPECT_FALSE(contact.rated.empty()) << part.name;
              }),
              30U);
    for_each_of<CutoffElement>(
        [](const Part& part, const CutoffElement& cutoff) { expect_ratings_fall(part, cutoff.rated); });
}

// IEC 60691: a link opens at its marked temperature +0/-10 K and may be held below that.
TEST(PartRatings, CutoffsHoldBelowTheyTrip) {
    const std::size_t cutoffs = for_each_of<CutoffElement>([](const Part& part, const CutoffElement& cutoff) {
        ASSERT_TRUE(cutoff.trip) << part.name;
        EXPECT_TRUE(below(cutoff.holding_temperature, cutoff.trip)) << part.name;
        const double width = cutoff.trip->range.hi.si - cutoff.trip->range.lo.si;
        EXPECT_LE(width, 20.0) << part.name;
        if (cutoff.reset == CutoffReset::one_shot) {
            EXPECT_NEAR(width, 10.0, 1e-9) << part.name;
        }
    });
    EXPECT_GE(cutoffs, 50U);
}

TEST(PartRatings, TransistorsBeginBelowTheirDrive) {
    const std::size_t transistors = for_each_of<TransistorElement>([](const Part& part, const TransistorElement& t) {
        if (t.threshold && t.drive_needed) {
            EXPECT_LT(t.threshold->range.lo.si, t.drive_needed->range.lo.si) << part.name;
        }
        if (t.drive_needed && t.drive_limit) {
            EXPECT_LT(t.drive_needed->range.hi.si, t.drive_limit->range.hi.si) << part.name;
        }
        EXPECT_TRUE(t.on_resistance || t.on_voltage) << part.name << ": it drops something when on";
    });
    EXPECT_GE(transistors, 10U);
}

TEST(PartRatings, ConvertersFitIntoThemselves) {
    const std::size_t converters = for_each_of<ConverterElement>([](const Part& part, const ConverterElement& c) {
        ASSERT_TRUE(c.input_voltage) << part.name;
        if (c.dropout) {
            EXPECT_LT(c.dropout->range.hi.si, c.input_voltage->range.lo.si) << part.name;
        }
        if (c.input_limit) {
            EXPECT_GE(c.input_limit->range.hi.si, c.input_voltage->range.hi.si) << part.name;
        }
        EXPECT_TRUE(below(c.rated_output_current, c.limit_current)) << part.name;
        const bool steps_down = c.topology == Topology::step_down || c.topology == Topology::linear;
        if (steps_down && c.output_voltage) {
            EXPECT_LE(c.output_voltage->range.hi.si, c.input_voltage->range.hi.si) << part.name;
        }
        EXPECT_TRUE(c.output_voltage || c.adjustable) << part.name;
    });
    EXPECT_GE(converters, 25U);
}

TEST(PartRatings, LoadsWorkBelowTheirLimit) {
    const std::size_t loads = for_each_of<LoadElement>([](const Part& part, const LoadElement& load) {
        if (load.voltage && load.voltage_limit) {
            EXPECT_LE(load.voltage->range.hi.si, load.voltage_limit->range.hi.si) << part.name;
        }
        const bool measured_by_the_user = part.name.ends_with("-salvaged");
        EXPECT_TRUE(measured_by_the_user || load.current || load.power || load.resistance) << part.name;
        if (load.start_factor) {
            EXPECT_GE(load.start_factor->range.lo.si, 1.0) << part.name;
        }
        if (part.name.starts_with("fan-") && !measured_by_the_user) {
            EXPECT_TRUE(load.start_factor) << part.name;
        }
    });
    EXPECT_GE(loads, 60U);
}

TEST(PartRatings, MaterialsArePhysical) {
    const std::size_t materials = for_each_of<MaterialElement>([](const Part& part, const MaterialElement& m) {
        if (m.density && part.name != "air") {
            EXPECT_GE(m.density->range.lo.si, 10.0) << part.name;
            EXPECT_LE(m.density->range.hi.si, 9000.0) << part.name;
        }
        // From metals to water, which has the highest of all.
        if (m.specific_heat) {
            EXPECT_GE(m.specific_heat->range.lo.si, 350.0) << part.name;
            EXPECT_LE(m.specific_heat->range.hi.si, 4250.0) << part.name;
        }
        if (m.conductivity) {
            EXPECT_GE(m.conductivity->range.lo.si, 0.02) << part.name;
            EXPECT_LE(m.conductivity->range.hi.si, 401.0) << part.name;
        }
        EXPECT_EQ(m.melting_energy && !m.melting, false) << part.name << ": melts where?";
        EXPECT_TRUE(m.limit || m.specific_heat) << part.name;
    });
    EXPECT_GE(materials, 40U);
}

} // namespace
} // namespace trivet::testing
