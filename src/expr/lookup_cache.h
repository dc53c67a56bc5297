#pragma once

#include "expr/ast.h"
#include "expr/value_ref.h"
#include "tables/table.h"

#include <span>
#include <vector>

namespace trivet {

// Remembers the last answers of each lookup in an expression: most wires of a build share few sizes and temperatures.
class LookupCache {
public:
    explicit LookupCache(const Handbook& handbook)
        : handbook_(&handbook) {}

    // `call` is a type-checked lookup with known keys; the node must stay where it is while the cache lives. The answer
    // is valid until the next look-up.
    const tl::expected<double, Unknown>& look_up(const Expression& expression, const ExprNode& call,
                                                 std::span<const ValueRef> keys);

private:
    struct Answer {
        std::vector<TableKey> keys;
        tl::expected<double, Unknown> value;
    };
    struct Call {
        const ExprNode* node = nullptr;
        std::vector<Answer> answers;
        std::size_t oldest = 0;
    };

    Call& call_of(const ExprNode& node);

    const Handbook* handbook_;
    std::vector<Call> calls_;
};

} // namespace trivet
