#pragma once

#include "facts/schema.h"

// The words in which the rows of schema_*.h are written.
namespace trivet::declared {

using enum SubjectKind;
constexpr ExprType truth = TruthType{};
constexpr ExprType text = TextType{};

} // namespace trivet::declared
