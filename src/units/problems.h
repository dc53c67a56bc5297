#pragma once

#include "units/parse.h"

#include <string>
#include <string_view>

namespace trivet {

// The sentences for everything that can be wrong with a quantity; kept away from the parser so that its success path
// stays small. `begin` and `end` are byte offsets of the culprit in `text`.
std::string shortened(std::string_view text); // at most 40 bytes of the user's text, cut between characters

QuantityProblem unknown_unit(std::string_view text, std::size_t begin, std::size_t end, Dimension expected);
QuantityProblem wrong_dimension(std::string_view value, std::size_t begin, Dimension found, Dimension expected,
                                char lone_letter);
QuantityProblem missing_unit(std::string_view value, std::size_t begin, Dimension expected);
QuantityProblem not_a_number(std::string_view text, std::size_t begin, Dimension expected);
QuantityProblem decimal_comma(std::string_view text, std::size_t begin, std::size_t comma);
QuantityProblem trailing_text(std::string_view text, std::size_t begin);

} // namespace trivet
