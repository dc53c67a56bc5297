#pragma once

#include "rules/finding.h"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// A rule's message or remedy with the numbers of a finding; the subject goes by the name given here.
std::string render(std::string_view sentence, const Finding& finding, std::string_view subject_name);

// "a, b and c"; beyond `limit` "a, b and 7 more".
std::string enumerated(std::span<const std::string> items, std::size_t limit = 4);

// "a wire carries no more than its rated current": a title inside a sentence.
std::string inside_sentence(std::string_view title);

// Why it cannot be told, without final stop: "length of W1 is not stated (state it in [[wire]])".
std::string obstacle(const std::vector<std::string>& missing, const std::vector<std::string>& reasons);

} // namespace trivet
