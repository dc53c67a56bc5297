#include "electrical/fuse.h"

#include "tables/handbook.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace trivet {
namespace {

FuseElement fuse_of(FuseFamily family, double amperes) {
    FuseElement fuse;
    fuse.family = family;
    fuse.rated_current = Given<dim::current>{{{amperes}, {amperes}}, {}, Basis::standard};
    return fuse;
}

class FuseTest : public testing::Test {
protected:
    std::optional<double> opens(FuseFamily family, double rated, double current) const {
        const auto time = opens_within(fuse_of(family, rated), Current{current}, handbook_);
        if (!time) return std::nullopt;
        return time->si;
    }
    std::optional<double> passes(FuseFamily family, double rated, double lo, double hi) const {
        const auto integral = let_through(fuse_of(family, rated), Current{lo}, Current{hi}, handbook_);
        if (!integral) return std::nullopt;
        return integral->si;
    }

    const Handbook handbook_ = test::shipped_handbook();
};

struct Gate {
    double multiple;
    double seconds;
};

// At each gate its time; just below it the longer time of the gate before; below the first nothing is promised.
void expect_gates(std::initializer_list<Gate> gates, const std::function<std::optional<double>(double)>& opens) {
    std::optional<double> before;
    for (const Gate& gate : gates) {
        EXPECT_EQ(opens(gate.multiple * 0.999), before) << gate.multiple;
        EXPECT_EQ(opens(gate.multiple), gate.seconds) << gate.multiple;
        before = gate.seconds;
    }
}

// IEC 60127-2, quick-acting sheets 1 and 2, 125 mA to 10 A at 23 °C: 2.1 In within 30 min, 2.75 In 2 s, 4 In 300 ms,
// 10 In 20 ms.
TEST_F(FuseTest, QuickGatesOfTheMiniatureFuseStandard) {
    for (const double rated : {0.5, 2.0, 6.3})
        expect_gates({{2.1, 1800.0}, {2.75, 2.0}, {4.0, 0.3}, {10.0, 0.02}},
                     [&](double multiple) { return opens(FuseFamily::quick, rated, multiple * rated); });
}

// UL 248-14, up to 30 A: 135 % within 60 min, 200 % within 2 min.
TEST_F(FuseTest, GatesOfSupplementalFuses) {
    for (const double rated : {1.0, 10.0, 30.0})
        expect_gates({{1.35, 3600.0}, {2.0, 120.0}},
                     [&](double multiple) { return opens(FuseFamily::ul, rated, multiple * rated); });
}

// IEC 60127-2 sheet 3 and ISO 8820-3, both from memory.
TEST_F(FuseTest, TimeLagAndBladeGates) {
    expect_gates({{2.1, 120.0}, {2.75, 10.0}, {4.0, 3.0}, {10.0, 0.3}},
                 [&](double multiple) { return opens(FuseFamily::time_lag, 2.0, multiple * 2.0); });
    expect_gates({{1.6, 50.0}, {2.0, 5.0}, {3.5, 0.5}, {6.0, 0.15}}, [&](double multiple) {
        if (multiple < 1.6) return std::optional<double>{};
        return opens(FuseFamily::blade, 10.0, multiple * 10.0);
    });
}

// Operating current: UL 248-14 1.35 In; IEC 60127-2 2.1 In; ISO 8820-3 1.35 In (from memory).
TEST_F(FuseTest, OperatingCurrentIsTheFirstGate) {
    const struct {
        FuseFamily family;
        double rated;
        double operates;
    } rows[] = {{FuseFamily::ul, 10.0, 13.5},
                {FuseFamily::quick, 4.0, 8.4},
                {FuseFamily::time_lag, 2.0, 4.2},
                {FuseFamily::blade, 10.0, 13.5},
                {FuseFamily::blade, 4.0, 5.4}};
    for (const auto& row : rows) {
        const FuseElement fuse = fuse_of(row.family, row.rated);
        const auto current = operating_current(fuse, handbook_);
        ASSERT_TRUE(current);
        EXPECT_NEAR(current->si, row.operates, 1e-12);
        EXPECT_TRUE(opens_within(fuse, *current, handbook_));
        EXPECT_FALSE(opens_within(fuse, Current{current->si * 0.999}, handbook_));
    }
}

TEST_F(FuseTest, WithoutRatingNothingIsPromised) {
    const FuseElement unrated;
    EXPECT_FALSE(operating_current(unrated, handbook_));
    EXPECT_FALSE(opens_within(unrated, Current{100.0}, handbook_));
    EXPECT_FALSE(let_through(unrated, Current{1.0}, Current{100.0}, handbook_));
    EXPECT_FALSE(operating_current(fuse_of(FuseFamily::blade, 0.0), handbook_));
    EXPECT_FALSE(operating_current(fuse_of(FuseFamily::blade, 4.0), Handbook{}));
}

// A rating known as a range opens latest at its upper end.
TEST_F(FuseTest, RangeOfRatingsCountsWithItsUpperEnd) {
    FuseElement fuse = fuse_of(FuseFamily::blade, 4.0);
    fuse.rated_current->range.lo = {3.0};
    EXPECT_NEAR(operating_current(fuse, handbook_)->si, 5.4, 1e-12);
}

// By hand from the gates of IEC 60127-2, 1 A quick-acting: 2 s from 2.75 A, 0.3 s from 4 A, 0.02 s from 10 A.
TEST_F(FuseTest, LetThroughIsTheWorstGateOfTheRange) {
    const auto passed = [&](double lo, double hi) { return passes(FuseFamily::quick, 1.0, lo, hi); };
    EXPECT_FALSE(passed(1.0, 2.0));                      // never opens
    EXPECT_FALSE(passed(2.1, 2.7));                      // opens only after minutes: no adiabatic matter
    EXPECT_NEAR(*passed(2.75, 3.0), 9.0 * 2.0, 1e-9);    // inside one gate: its largest current
    EXPECT_NEAR(*passed(3.0, 8.0), 16.0 * 2.0, 1e-9);    // 32 at 4 A beats 64 * 0.3 at 8 A
    EXPECT_NEAR(*passed(5.0, 20.0), 100.0 * 0.3, 1e-9);  // 30 just below 10 A beats 400 * 0.02
    EXPECT_NEAR(*passed(12.0, 100.0), 1e4 * 0.02, 1e-9); // the last gate has no end
    EXPECT_NEAR(*passed(1.0, 3.0), 9.0 * 2.0, 1e-9);     // what is below the gates does not count
    EXPECT_NEAR(*passed(50.0, 50.0), 2500.0 * 0.02, 1e-9);
}

// Against every current of the range taken one by one: no I²t with opening in 5 s is larger.
TEST_F(FuseTest, LetThroughBoundsEverySingleCurrent) {
    for (const FuseFamily family : {FuseFamily::blade, FuseFamily::quick, FuseFamily::time_lag, FuseFamily::ul}) {
        for (const double hi : {5.0, 9.0, 25.0, 80.0}) {
            double sampled = 0.0;
            for (int step = 0; step <= 4000; ++step) {
                const double current = 3.0 + (hi - 3.0) * step / 4000.0;
                const auto time = opens(family, 2.0, current);
                if (time && *time <= 5.0) sampled = std::max(sampled, current * current * *time);
            }
            const double bound = passes(family, 2.0, 3.0, hi).value_or(0.0);
            EXPECT_GE(bound, sampled * (1.0 - 1e-12)) << hi;
            EXPECT_LE(bound, sampled * 1.01) << hi;
        }
    }
}

// UL 248-14 promises no opening faster than 2 min, so a conductor cannot count on it in a short circuit.
TEST_F(FuseTest, SupplementalFusePromisesNoFastOpening) { EXPECT_FALSE(passes(FuseFamily::ul, 5.0, 10.0, 1000.0)); }

// Published worked example of IEC 60364-4-43 cl. 434.5.2: 3000 A for 0.4 s, copper with PVC (k = 115) needs 16.50 mm².
// A 300 A fuse whose only gate opens within 0.4 s lets the same through.
TEST_F(FuseTest, AdiabaticWorkedExample) {
    const PublishedTable* withstand = handbook_.find("adiabatic-k");
    ASSERT_NE(withstand, nullptr);
    const auto k_squared = test::look_up(*withstand, {test::key("pvc")});
    ASSERT_TRUE(k_squared.has_value());
    const auto table = test::table_from(R"(title = "One gate"
source = "made for this check"
confirmed = "computed"
keys = [{ name = "multiple", dimension = "number", match = "down" }]
value = { name = "opens_within", dimension = "time" }
rows = [[2.0, "0.4 s"]]
)",
                                        "rules/tables/fuse-gates-blade.toml");
    ASSERT_TRUE(table) << test::describe(table.errors);
    Handbook handbook;
    handbook.tables.emplace("fuse-gates-blade", *table.value);
    const auto passed = let_through(fuse_of(FuseFamily::blade, 300.0), Current{3000.0}, Current{3000.0}, handbook);
    ASSERT_TRUE(passed);
    EXPECT_NEAR(passed->si, 3.6e6, 1e-3);
    EXPECT_NEAR(std::sqrt(passed->si / k_squared->si) * 1e6, 16.50, 0.005); // mm²
}

} // namespace
} // namespace trivet
