#include "expr/lexer.h"

#include "source/utf8.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>

namespace trivet {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

constexpr std::array<std::string_view, 13> symbols{"==", "!=", "<=", ">=", "<", ">", "+", "-", "*", "/", "(", ")", ","};

struct Misspelt {
    std::string_view written;
    std::string_view instead;
};
constexpr std::array<Misspelt, 10> misspelt{{{"&&", "and"},
                                             {"||", "or"},
                                             {"&", "and"},
                                             {"|", "or"},
                                             {"!", "not"},
                                             {"=", "=="},
                                             {"≤", "<="},
                                             {"≥", ">="},
                                             {"≠", "!="},
                                             {"×", "*"}}};

class Lexer {
public:
    explicit Lexer(std::string_view text)
        : text_(text) {}

    tl::expected<std::vector<Token>, ExprProblem> run() {
        while (true) {
            while (at_ < text_.size() && is_space(text_[at_])) ++at_;
            auto token = next();
            if (!token) return tl::unexpected(token.error());
            tokens_.push_back(*token);
            if (token->kind == TokenKind::end) return std::move(tokens_);
        }
    }

private:
    using Result = tl::expected<Token, ExprProblem>;

    Result next() {
        if (at_ == text_.size()) return token(TokenKind::end, at_);
        const char c = text_[at_];
        if (is_digit(c)) return number();
        if (is_letter(c)) {
            std::size_t end = at_;
            while (end < text_.size() && (is_letter(text_[end]) || is_digit(text_[end]))) ++end;
            return token(TokenKind::word, end);
        }
        if (c == '"' || c == '\'') return quoted(c);
        for (const std::string_view symbol : symbols) {
            if (text_.substr(at_).starts_with(symbol)) return token(TokenKind::symbol, at_ + symbol.size());
        }
        return stray();
    }

    Result number() {
        std::size_t end = skip_digits(at_);
        if (end < text_.size() && text_[end] == '.') end = skip_digits(end + 1);
        if (end < text_.size() && (text_[end] == 'e' || text_[end] == 'E')) {
            std::size_t exponent = end + 1;
            if (exponent < text_.size() && (text_[exponent] == '+' || text_[exponent] == '-')) ++exponent;
            if (exponent < text_.size() && is_digit(text_[exponent])) end = skip_digits(exponent);
        }
        if (end < text_.size() && (is_letter(text_[end]) || text_[end] == '%' || text_[end] == '.')) {
            return tl::unexpected(ExprProblem{
                end,
                fmt::format("'{}' is followed by something that does not belong to it", text_.substr(at_, end - at_)),
                "a number with a unit is written in quotes, for example \"24 V\""});
        }
        Result result = token(TokenKind::number, end);
        const auto read =
            std::from_chars(result->text.data(), result->text.data() + result->text.size(), result->number);
        if (read.ec != std::errc{} || !std::isfinite(result->number) || std::abs(result->number) > 1e30) {
            return tl::unexpected(ExprProblem{result->begin, fmt::format("'{}' is not a usable number", result->text),
                                              "numbers lie between 1e-30 and 1e30"});
        }
        return result;
    }

    std::size_t skip_digits(std::size_t from) const {
        while (from < text_.size() && is_digit(text_[from])) ++from;
        return from;
    }

    Result quoted(char quote) {
        const std::size_t closing = text_.find(quote, at_ + 1);
        if (closing == std::string_view::npos) {
            return tl::unexpected(
                ExprProblem{at_, "a text begins here and does not end", fmt::format("close it with {}", quote)});
        }
        Result result = token(TokenKind::text, closing + 1);
        result->text = result->text.substr(1, result->text.size() - 2);
        return result;
    }

    Result stray() const {
        for (const Misspelt& row : misspelt) {
            if (text_.substr(at_).starts_with(row.written)) {
                return tl::unexpected(ExprProblem{at_,
                                                  fmt::format("'{}' is not part of the rule language", row.written),
                                                  fmt::format("write '{}'", row.instead)});
            }
        }
        const std::string_view character = text_.substr(at_, code_point_at(text_, at_).bytes);
        return tl::unexpected(
            ExprProblem{at_, fmt::format("'{}' is not part of the rule language", shown(character)),
                        "an expression is made of names, numbers, quoted texts and + - * / < <= > >= == "
                        "!= and or not ( ) ,"});
    }

    Token token(TokenKind kind, std::size_t end) {
        const Token result{kind, static_cast<std::uint32_t>(at_), static_cast<std::uint32_t>(end),
                           text_.substr(at_, end - at_), 0.0};
        at_ = end;
        return result;
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::vector<Token> tokens_;
};

} // namespace

tl::expected<std::vector<Token>, ExprProblem> tokenize(std::string_view text) { return Lexer(text).run(); }

} // namespace trivet
