#pragma once

#include "electrical/fault_current.h"
#include "support/design_builder.h"
#include "tables/handbook.h"

#include <gtest/gtest.h>

#include <limits>
#include <string>

namespace trivet {

inline constexpr double no_fuse = std::numeric_limits<double>::infinity();
inline constexpr double warm = 1.0 + 0.00393 * 50.0; // copper at 70 °C against 20 °C (IEC 60228 annex A)

class FaultTest : public testing::Test {
protected:
    // A wire with this resistance at 20 °C; its upper end is the one at 70 °C.
    WireId wire(std::string_view from_to, double ohms) {
        return builder_.wire(from_to, given<dim::length>(ohms, ohms), given<dim::area>(1e-6, 1e-6));
    }

    PartId limited_supply(const std::string& name, Given<dim::voltage> voltage, Given<dim::current> limit) {
        SourceElement source;
        source.between = ends(0, 1);
        source.voltage = voltage;
        source.limit_current = limit;
        source.limit_mode = LimitMode::constant_current;
        return builder_.part(name, {"+", "-"}, {source});
    }

    PartId blade(const std::string& name, double rated, double ohms_ = 0.0) {
        return builder_.fuse(name, ohms(ohms_), amperes(rated));
    }

    void solve() {
        circuit_ = build_circuit(builder_.design(), [](const WireElement&) { return ResistancePerLength{1.0}; });
        faults_ = prospective_faults(circuit_, builder_.design(), handbook_);
        ASSERT_EQ(faults_.branch.size(), circuit_.branches.size());
    }

    const BranchFault& at(WireId wire) const { return faults_.branch[circuit_.wire_branch[wire.value].value]; }
    const BranchFault& at(PartId part) const { return faults_.branch[branch(part).value]; }
    BranchId branch(PartId part) const {
        for (std::uint32_t i = 0; i < circuit_.branches.size(); ++i)
            if (circuit_.branches[i].kind != BranchKind::wire && circuit_.branches[i].part == part) return {i};
        ADD_FAILURE() << "no branch of part " << part.value;
        return {};
    }

    DesignBuilder builder_;
    Circuit circuit_;
    FaultCurrents faults_;
    const Handbook handbook_ = test::shipped_handbook();
};

} // namespace trivet
