#pragma once

#include "circuit/circuit.h"
#include "support/design_builder.h"

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

inline Circuit circuit_of(const DesignBuilder& builder) { return build_circuit(builder.design(), class_5_resistance); }

// The nth branch of a part (elements that are no branch do not count), or of a wire called "W1".
inline BranchId branch_of(const Circuit& circuit, const DesignBuilder& builder, std::string_view name,
                          std::size_t nth = 0) {
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        const std::string& owner = branch.kind == BranchKind::wire ? builder.design().wire(branch.wire).name
                                                                   : builder.design().part(branch.part).name;
        if (owner == name && nth-- == 0) return {i};
    }
    throw std::invalid_argument("no branch " + std::string(name));
}

// Parts and wires that branches belong to, in the order given: "supply main_fuse W1".
inline std::string names_of(const std::vector<BranchId>& branches, const Circuit& circuit,
                            const DesignBuilder& builder) {
    std::string text;
    for (const BranchId id : branches) {
        const Branch& branch = circuit.branches[id.value];
        if (!text.empty()) text += ' ';
        text += branch.kind == BranchKind::wire ? builder.design().wire(branch.wire).name
                                                : builder.design().part(branch.part).name;
    }
    return text;
}

} // namespace trivet
