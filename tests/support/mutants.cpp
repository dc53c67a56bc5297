#include "support/mutants.h"

#include "units/quantity.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <string_view>

namespace trivet::testing {
namespace {

using Change = std::function<void(Expression&)>;

// The expression a mutant differs in: of `applies`, of `require`, or of a let by its index.
struct Target {
    std::string name;
    std::function<Expression&(Rule&)> in;
    bool is_shared = false;
};

void mark_reached(const Rule& rule, const Expression& expression, std::vector<bool>& reached) {
    for (const ExprNode& node : expression.nodes) {
        if (node.kind != ExprKind::name) continue;
        const RuleName& name = rule.names[node.slot];
        if (name.kind != NameKind::let || reached[name.index]) continue;
        reached[name.index] = true;
        mark_reached(rule, rule.lets[name.index].expression, reached);
    }
}

std::vector<Target> targets_of(const Rule& rule) {
    std::vector<Target> targets;
    std::vector<bool> reached(rule.lets.size(), false);
    if (rule.applies) {
        targets.push_back({"applies", [](Rule& r) -> Expression& { return *r.applies; }, false});
        mark_reached(rule, *rule.applies, reached);
    }
    targets.push_back({"require", [](Rule& r) -> Expression& { return r.require; }, false});
    mark_reached(rule, rule.require, reached);
    for (std::size_t i = 0; i < rule.lets.size(); ++i) {
        if (!reached[i]) continue;
        const bool is_shared = rule.lets[i].place.file != rule.place.file;
        targets.push_back(
            {"let." + rule.lets[i].name, [i](Rule& r) -> Expression& { return r.lets[i].expression; }, is_shared});
    }
    return targets;
}

std::optional<BinaryOp> turned_round(BinaryOp op) {
    switch (op) {
    case BinaryOp::less:
        return BinaryOp::greater;
    case BinaryOp::less_equal:
        return BinaryOp::greater_equal;
    case BinaryOp::greater:
        return BinaryOp::less;
    case BinaryOp::greater_equal:
        return BinaryOp::less_equal;
    case BinaryOp::equal:
        return BinaryOp::not_equal;
    case BinaryOp::not_equal:
        return BinaryOp::equal;
    default:
        return std::nullopt;
    }
}

bool is_product(const ExprNode& node) {
    return node.kind == ExprKind::binary && (node.op == BinaryOp::multiply || node.op == BinaryOp::divide);
}

// Collects the changes of one expression, from its root down.
class Mutator {
public:
    Mutator(Rule rule, Target target, std::vector<Mutant>& mutants)
        : rule_(std::move(rule))
        , target_(std::move(target))
        , original_(target_.in(rule_))
        , mutants_(mutants) {}

    void run() { visit(original_.root, false); }

private:
    std::string words(ExprIndex index) const { return std::string(original_.text_of(index)); }

    void add(std::string change, const Change& apply) {
        Mutant mutant{fmt::format("{}: {}", target_.name, change), rule_, target_.is_shared};
        apply(target_.in(mutant.rule));
        mutants_.push_back(std::move(mutant));
    }

    void visit(ExprIndex index, bool within_product) {
        const ExprNode& node = original_.node(index);
        if (node.kind == ExprKind::number || node.kind == ExprKind::quantity) move_constant(index);
        if (node.kind == ExprKind::logical_not) keep_only(index, node.operands.front(), "without its not");
        if (node.kind == ExprKind::binary) visit_binary(index, within_product);
        const bool is_extreme =
            node.kind == ExprKind::call && (node.function == Function::minimum || node.function == Function::maximum);
        if (is_extreme) keep_each(index);
        for (const ExprIndex operand : node.operands) visit(operand, is_product(node));
    }

    void visit_binary(ExprIndex index, bool within_product) {
        const ExprNode& node = original_.node(index);
        if (const auto op = turned_round(node.op))
            add(fmt::format("'{}' turned round", words(index)), [=](Expression& e) { e.nodes[index].op = *op; });
        if (node.op == BinaryOp::logical_and || node.op == BinaryOp::logical_or) keep_each(index);
        if (is_product(node) && !within_product) replace_factors(index);
    }

    void keep_only(ExprIndex index, ExprIndex operand, std::string_view how) {
        add(fmt::format("'{}' {}", words(index), how), [=](Expression& e) { e.nodes[index] = e.nodes[operand]; });
    }

    void keep_each(ExprIndex index) {
        for (const ExprIndex operand : original_.node(index).operands)
            add(fmt::format("only '{}' of '{}'", words(operand), words(index)),
                [=](Expression& e) { e.nodes[index] = e.nodes[operand]; });
    }

    void replace_factors(ExprIndex index) {
        const ExprNode& node = original_.node(index);
        for (const ExprIndex operand : node.operands) {
            const ExprNode& factor = original_.node(operand);
            if (is_product(factor)) {
                replace_factors(operand);
            } else if (factor.kind != ExprKind::number || factor.quantity.si != 1.0) {
                add(fmt::format("1 instead of '{}'", words(operand)), [=](Expression& e) {
                    e.nodes[operand].kind = ExprKind::number;
                    e.nodes[operand].quantity.si = 1.0;
                    e.nodes[operand].operands.clear();
                });
            }
        }
    }

    // Zero stays zero.
    void move_constant(ExprIndex index) {
        const ExprNode& node = original_.node(index);
        const auto* dimension = std::get_if<Dimension>(&node.type);
        const double origin = dimension != nullptr && dimension->point ? zero_celsius_in_kelvin : 0.0;
        const double distance = node.quantity.si - origin;
        if (distance == 0.0) return;
        for (const double factor : {1.2, 0.8})
            add(fmt::format("'{}' a fifth {}", words(index), factor > 1.0 ? "up" : "down"),
                [=](Expression& e) { e.nodes[index].quantity.si = origin + factor * distance; });
    }

    Rule rule_;
    Target target_;
    Expression original_;
    std::vector<Mutant>& mutants_;
};

void count_same_words(std::vector<Mutant>& mutants) {
    for (std::size_t i = 0; i < mutants.size(); ++i) {
        std::size_t count = 1;
        const std::string change = mutants[i].change;
        for (std::size_t j = i + 1; j < mutants.size(); ++j)
            if (mutants[j].change == change) mutants[j].change += fmt::format(" ({})", ++count);
    }
}

} // namespace

std::vector<Mutant> mutants_of(const Rule& rule) {
    std::vector<Mutant> mutants;
    for (const Target& target : targets_of(rule)) Mutator(rule, target, mutants).run();
    if (rule.applies) {
        mutants.push_back({"applies: left out", rule, false});
        mutants.back().rule.applies.reset();
    }
    count_same_words(mutants);
    return mutants;
}

} // namespace trivet::testing
