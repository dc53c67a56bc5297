#pragma once

#include <tl/expected.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace trivet {

// A rule's message or remedy cut into plain text and placeholders: "{subject} carries {current}."
struct TemplatePiece {
    std::string_view text; // plain text, or the name between the braces
    bool is_placeholder = false;
    std::size_t offset = 0; // bytes; of the opening brace for a placeholder
};

struct TemplateProblem {
    std::size_t offset = 0;
    std::string message;
};

inline constexpr std::string_view subject_placeholder = "subject";

tl::expected<std::vector<TemplatePiece>, TemplateProblem> split_template(std::string_view text);

} // namespace trivet
