#include "expr/parse.h"

#include "expr/lexer.h"
#include "source/suggest.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

namespace trivet {
namespace {

constexpr std::size_t longest_expression = 2000;
constexpr int deepest_expression = 64;

struct OperatorRow {
    std::string_view text;
    BinaryOp op;
    int binding; // higher binds tighter
};
constexpr int comparison_binding = 4;
constexpr int not_binding = 3;
constexpr int minus_binding = 7;
constexpr std::array<OperatorRow, 12> operators{{{"or", BinaryOp::logical_or, 1},
                                                 {"and", BinaryOp::logical_and, 2},
                                                 {"==", BinaryOp::equal, comparison_binding},
                                                 {"!=", BinaryOp::not_equal, comparison_binding},
                                                 {"<", BinaryOp::less, comparison_binding},
                                                 {"<=", BinaryOp::less_equal, comparison_binding},
                                                 {">", BinaryOp::greater, comparison_binding},
                                                 {">=", BinaryOp::greater_equal, comparison_binding},
                                                 {"+", BinaryOp::add, 5},
                                                 {"-", BinaryOp::subtract, 5},
                                                 {"*", BinaryOp::multiply, 6},
                                                 {"/", BinaryOp::divide, 6}}};

struct FunctionRow {
    std::string_view name;
    Function function;
    std::size_t fewest; // operands, the table of a lookup not counted
    std::size_t most;
    std::string_view form;
};
constexpr std::size_t many = 16;
constexpr std::array<FunctionRow, 7> functions{{{"min", Function::minimum, 2, many, "min(a, b, ...)"},
                                                {"max", Function::maximum, 2, many, "max(a, b, ...)"},
                                                {"abs", Function::absolute, 1, 1, "abs(a)"},
                                                {"sqrt", Function::square_root, 1, 1, "sqrt(a)"},
                                                {"if", Function::choose, 3, 3, "if(condition, a, b)"},
                                                {"lookup", Function::look_up, 1, many, "lookup('table', key, ...)"},
                                                {"stated", Function::is_stated, 1, 1, "stated(name)"}}};

constexpr std::array<std::string_view, 5> word_operators{"and", "or", "not", "true", "false"};

class Parser {
public:
    Parser(std::string_view text, std::vector<Token> tokens)
        : tokens_(std::move(tokens)) {
        expression_.text = text;
    }

    tl::expected<Expression, ExprProblem> run() {
        const std::optional<ExprIndex> root = expression(0);
        if (root && peek().kind != TokenKind::end) unexpected_token();
        if (problem_) return tl::unexpected(*problem_);
        expression_.root = *root;
        return std::move(expression_);
    }

private:
    using Parsed = std::optional<ExprIndex>; // empty: problem_ says why

    Parsed expression(int weakest) {
        if (++nesting_ > deepest_expression)
            return fail(peek(), "the expression is nested too deeply", too_deep_hint());
        Parsed left = operand();
        while (left) {
            const OperatorRow* row = operator_at(peek());
            if (row == nullptr || row->binding < weakest) break;
            const Token token = take();
            const Parsed right = expression(row->binding + 1);
            if (!right) return {};
            left = binary(*row, token, *left, *right);
        }
        --nesting_;
        return left;
    }

    Parsed binary(const OperatorRow& row, const Token& token, ExprIndex left, ExprIndex right) {
        const OperatorRow* following = operator_at(peek());
        if (row.binding == comparison_binding && following != nullptr && following->binding == comparison_binding) {
            return fail(peek(), "comparisons do not chain", "write 'a < b and b < c'");
        }
        ExprNode node{.kind = ExprKind::binary, .op = row.op, .offset = token.begin};
        node.begin = expression_.nodes[left].begin;
        node.end = expression_.nodes[right].end;
        node.operands = {left, right};
        return add(std::move(node));
    }

    Parsed operand() {
        const std::size_t start = at_;
        const Token token = take();
        ExprNode node{.offset = token.begin, .begin = token.begin, .end = token.end};
        switch (token.kind) {
        case TokenKind::number:
            node.kind = ExprKind::number;
            node.quantity = {token.number, dim::number};
            return add(std::move(node));
        case TokenKind::text:
            node.kind = ExprKind::text;
            node.text = token.text;
            return add(std::move(node));
        case TokenKind::word:
            return word(token, std::move(node));
        case TokenKind::symbol:
            if (token.text == "-") return prefix(std::move(node), ExprKind::unary_minus, minus_binding);
            if (token.text == "(") return bracketed(token);
            break;
        case TokenKind::end:
            break;
        }
        at_ = start;
        return unexpected_token();
    }

    Parsed word(const Token& token, ExprNode node) {
        if (token.text == "not") return prefix(std::move(node), ExprKind::logical_not, not_binding);
        if (token.text == "true" || token.text == "false") {
            node.kind = ExprKind::truth;
            node.truth = token.text == "true";
            return add(std::move(node));
        }
        if (peek().text == "(" && peek().kind == TokenKind::symbol) return call(token, std::move(node));
        if (is_reserved_word(token.text)) {
            --at_;
            return unexpected_token();
        }
        node.kind = ExprKind::name;
        node.text = token.text;
        return add(std::move(node));
    }

    Parsed prefix(ExprNode node, ExprKind kind, int binding) {
        const Parsed inner = expression(binding);
        if (!inner) return {};
        node.kind = kind;
        node.end = expression_.nodes[*inner].end;
        node.operands = {*inner};
        return add(std::move(node));
    }

    Parsed bracketed(const Token& opening) {
        const Parsed inner = expression(0);
        if (!inner) return {};
        if (!take_symbol(")")) return fail(peek(), "a closing bracket is missing here", "write ')'");
        expression_.nodes[*inner].begin = opening.begin;
        expression_.nodes[*inner].end = tokens_[at_ - 1].end;
        return inner;
    }

    Parsed call(const Token& name, ExprNode node) {
        const auto row = std::ranges::find(functions, name.text, &FunctionRow::name);
        if (row == functions.end()) {
            std::array<std::string_view, functions.size()> names;
            std::ranges::transform(functions, names.begin(), &FunctionRow::name);
            return fail(name, fmt::format("'{}' is not a function of the rule language", shown(name.text)),
                        did_you_mean(name.text, names));
        }
        take();
        node.kind = ExprKind::call;
        node.function = row->function;
        if (row->function == Function::look_up && !table_name(node)) return {};
        if (!arguments(node)) return {};
        node.end = tokens_[at_ - 1].end;
        if (node.operands.size() < row->fewest || node.operands.size() > row->most) {
            return fail(name, fmt::format("'{}' has the wrong number of values", row->name),
                        fmt::format("write {}", row->form));
        }
        if (row->function == Function::is_stated && expression_.nodes[node.operands[0]].kind != ExprKind::name) {
            return fail(name, "'stated' asks about one name", "write stated(name)");
        }
        return add(std::move(node));
    }

    bool table_name(ExprNode& node) {
        if (peek().kind != TokenKind::text) {
            fail(peek(), "the name of a table is missing here", "write lookup('table', key, ...)");
            return false;
        }
        node.text = take().text;
        if (take_symbol(",")) return true;
        fail(peek(), "a lookup needs at least one key after the table", "write lookup('table', key, ...)");
        return false;
    }

    bool arguments(ExprNode& node) {
        if (take_symbol(")")) return true;
        while (true) {
            const Parsed argument = expression(0);
            if (!argument) return false;
            node.operands.push_back(*argument);
            if (take_symbol(")")) return true;
            if (!take_symbol(",")) {
                fail(peek(), "a comma or a closing bracket is missing here", "");
                return false;
            }
        }
    }

    Parsed add(ExprNode node) {
        int depth = 0;
        for (const ExprIndex operand : node.operands) depth = std::max(depth, depths_[operand]);
        if (depth >= deepest_expression)
            return fail_at(node.offset, "the expression is nested too deeply", too_deep_hint());
        depths_.push_back(depth + 1);
        expression_.nodes.push_back(std::move(node));
        return static_cast<ExprIndex>(expression_.nodes.size() - 1);
    }

    static const OperatorRow* operator_at(const Token& token) {
        if (token.kind != TokenKind::symbol && token.kind != TokenKind::word) return nullptr;
        const auto row = std::ranges::find(operators, token.text, &OperatorRow::text);
        return row == operators.end() ? nullptr : &*row;
    }

    static std::string too_deep_hint() { return "give parts of it a name of their own with let"; }

    const Token& peek() const { return tokens_[at_]; }
    Token take() { return tokens_[at_ + 1 < tokens_.size() ? at_++ : at_]; }
    bool take_symbol(std::string_view symbol) {
        if (peek().kind != TokenKind::symbol || peek().text != symbol) return false;
        ++at_;
        return true;
    }

    Parsed unexpected_token() {
        const Token& token = peek();
        if (token.kind == TokenKind::end) return fail(token, "the expression ends too early", "");
        const std::string_view written =
            std::string_view(expression_.text).substr(token.begin, token.end - token.begin);
        return fail(token, fmt::format("'{}' does not fit here", shown(written)), "");
    }
    Parsed fail(const Token& token, std::string message, std::string hint) {
        return fail_at(token.begin, std::move(message), std::move(hint));
    }
    Parsed fail_at(std::size_t offset, std::string message, std::string hint) {
        if (!problem_) problem_ = ExprProblem{offset, std::move(message), std::move(hint)};
        return {};
    }

    std::vector<Token> tokens_;
    std::size_t at_ = 0;
    int nesting_ = 0;
    std::vector<int> depths_; // of each node
    Expression expression_;
    std::optional<ExprProblem> problem_;
};

} // namespace

bool is_reserved_word(std::string_view word) {
    return std::ranges::find(word_operators, word) != word_operators.end() ||
           std::ranges::find(functions, word, &FunctionRow::name) != functions.end();
}

tl::expected<Expression, ExprProblem> parse_expression(std::string_view text) {
    if (text.size() > longest_expression) {
        return tl::unexpected(ExprProblem{longest_expression, "the expression is longer than 2000 characters",
                                          "give parts of it a name of their own with let"});
    }
    auto tokens = tokenize(text);
    if (!tokens) return tl::unexpected(std::move(tokens.error()));
    return Parser(text, std::move(*tokens)).run();
}

} // namespace trivet
