#pragma once

#include "expr/parse.h"

#include <cstdint>
#include <string_view>
#include <vector>

namespace trivet {

enum class TokenKind : std::uint8_t { end, number, text, word, symbol };

struct Token {
    TokenKind kind{};
    std::uint32_t begin = 0; // bytes
    std::uint32_t end = 0;
    std::string_view text; // the word or symbol, or what stands between the quotes
    double number = 0.0;
};

// Splits an expression; the last token is always `end`. Texts have no escapes and end at the quote they began with.
tl::expected<std::vector<Token>, ExprProblem> tokenize(std::string_view text);

} // namespace trivet
