#include "rules/message_template.h"

namespace trivet {

tl::expected<std::vector<TemplatePiece>, TemplateProblem> split_template(std::string_view text) {
    std::vector<TemplatePiece> pieces;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t brace = text.find_first_of("{}", at);
        if (brace == std::string_view::npos) {
            pieces.push_back({text.substr(at), false, at});
            break;
        }
        if (brace > at) pieces.push_back({text.substr(at, brace - at), false, at});
        if (text[brace] == '}')
            return tl::unexpected(TemplateProblem{brace, "'}' closes a placeholder that was not opened"});
        const std::size_t closing = text.find_first_of("{}", brace + 1);
        if (closing == std::string_view::npos || text[closing] == '{') {
            return tl::unexpected(TemplateProblem{brace, "a placeholder begins here and does not end"});
        }
        pieces.push_back({text.substr(brace + 1, closing - brace - 1), true, brace});
        at = closing + 1;
    }
    return pieces;
}

} // namespace trivet
