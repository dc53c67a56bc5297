#pragma once

#include "expr/ast.h"
#include "expr/lookup_cache.h"
#include "expr/value_ref.h"

#include <deque>
#include <functional>
#include <optional>
#include <vector>

namespace trivet {

// The comparison that decides an evaluation, with its margin: rating over load, above 1 passes (see margin_ratio).
struct Deciding {
    const Expression* expression = nullptr; // null: no comparison of numbers decides
    ExprIndex comparison = 0;
    double ratio = 0.0;
    bool negated = false; // the opposite of the comparison is what counts
    double left = 0.0;    // the compared numbers in SI
    double right = 0.0;

    explicit operator bool() const { return expression != nullptr; }
};

struct Outcome {
    ValueRef value;
    Deciding deciding;
};

// The value behind a name's slot.
using SlotValues = std::function<Outcome(std::uint32_t slot)>;

// What an evaluation rested on; keep it as long as the outcome. Leave it away where only the answer counts: it costs.
struct Trace {
    std::vector<std::uint32_t> slots; // in order of first use; a branch that did not matter adds none
    std::deque<Unknown> unknowns;     // what unknown outcomes point at
};

// Evaluates a type-checked expression. Three-valued: `false and unknown` is false, `true or unknown` is true, otherwise
// an unknown carries the reasons of both sides. Division by zero, roots of negatives and what infinite values leave
// undefined are unknown with that reason, never NaN. The thinnest margin decides `and`, the best one `or`; equality,
// texts and truth values have none. Without `trace` an unknown outcome may come without its reasons.
Outcome evaluate(const Expression& expression, const SlotValues& slots, LookupCache& tables, Trace* trace = nullptr);

// Rating over load, at least 1 exactly when `load <= rating`. No load (zero, or negative where the rating is not):
// infinite. A rating of zero or less for a positive load: 0. Both negative: load over rating. Temperatures on the scale
// have no ratio: 1 plus the spare kelvins / 100, so that 1.10 means 10 K to spare, never below 0.
double margin_ratio(double load, double rating, bool on_temperature_scale);

} // namespace trivet
