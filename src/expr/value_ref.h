#pragma once

#include "expr/value.h"

#include <cstdint>
#include <string_view>

namespace trivet {

// A value on its way through an evaluation. Owns nothing, so that passing verdicts cost no allocation; the dimension of
// a number is known from the type of the expression it comes from.
struct ValueRef {
    enum class Kind : std::uint8_t { unknown, truth, number, text };

    Kind kind = Kind::unknown;
    bool truth = false;
    double si = 0.0;
    std::string_view text;
    const Unknown* unknown = nullptr; // the reasons, if anybody asked for them

    bool is_known() const { return kind != Kind::unknown; }
    bool is_true() const { return kind == Kind::truth && truth; }
    bool is_false() const { return kind == Kind::truth && !truth; }
};

ValueRef refer_to(const ExprValue& value); // `value` must outlive the result
ExprValue to_value(const ValueRef& value, const ExprType& type);

} // namespace trivet
