#pragma once

#include "rules/rule.h"

#include <string>
#include <vector>

namespace trivet::testing {

// A rule with one small mistake in its formula, and what was changed: "let.allowed_current: 1 instead of
// 'rated_current'".
struct Mutant {
    std::string change;
    Rule rule;
    bool is_shared = false; // the change is in a let of lets.toml, which other rules of the subject use too
};

// Everything `require` and `applies` rest on, directly or through lets, is changed once in each of these ways: a
// comparison turned round; one side of and, or, min, max alone; a `not` left out; a factor of a product or quotient
// replaced by 1; a constant moved by a fifth up and down (temperatures in degrees Celsius); `applies` left out. Policy
// values stay: a design may set them anyway. Two changes with the same words are counted: "... (2)".
std::vector<Mutant> mutants_of(const Rule& rule);

} // namespace trivet::testing
