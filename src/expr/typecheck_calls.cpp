#include "expr/checker.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet::detail {

Checked Checker::call(ExprIndex index, const Due& due) {
    switch (node(index).function) {
    case Function::minimum:
    case Function::maximum:
        return extreme(index, due);
    case Function::absolute: {
        const ExprIndex operand = node(index).operands[0];
        const Checked type = number(operand, due);
        return type && is_point(*type) ? refuse_point(operand, "given a size") : type;
    }
    case Function::square_root:
        return root(node(index).operands[0]);
    case Function::choose:
        return choose(index, due);
    case Function::look_up:
        return look_up(index);
    case Function::is_stated: {
        const Checked type = check(node(index).operands[0], {});
        return type ? ExprType{TruthType{}} : type;
    }
    }
    return {};
}

Checked Checker::extreme(ExprIndex index, const Due& due) {
    const std::vector<ExprIndex> operands = node(index).operands;
    const auto leader = std::ranges::find_if(operands, [&](ExprIndex operand) { return !flexible(operand); });
    const ExprIndex first = leader == operands.end() ? operands.front() : *leader;
    const Checked type = number(first, due);
    if (!type) return {};
    for (const ExprIndex operand : operands) {
        if (operand == first) continue;
        const Checked other = number(operand, due_from(*type));
        if (!other) return {};
        if (*other != *type) return fail_unlike(operand, *type, *other, "compared with", first, operand);
    }
    return type;
}

Checked Checker::root(ExprIndex operand) {
    const Checked type = number(operand, {});
    if (!type) return {};
    const Dimension d = *as_number(*type);
    const auto odd = [](std::int8_t exponent) { return exponent % 2 != 0; };
    if (d.point) return refuse_point(operand, "put under a square root");
    if (odd(d.length) || odd(d.mass) || odd(d.time) || odd(d.current) || odd(d.temperature)) {
        return fail(node(operand).offset,
                    fmt::format("'{}' is {}, which is not the square of anything", words(operand), to_text(*type)),
                    "only squares have a square root here");
    }
    const auto half = [](std::int8_t exponent) { return static_cast<std::int8_t>(exponent / 2); };
    return ExprType{Dimension{half(d.length), half(d.mass), half(d.time), half(d.current), half(d.temperature)}};
}

Checked Checker::choose(ExprIndex index, const Due& due) {
    const std::vector<ExprIndex> operands = node(index).operands;
    if (!truth_operand(operands[0])) return {};
    const bool second_first = flexible(operands[1]) && !flexible(operands[2]);
    const ExprIndex first = second_first ? operands[2] : operands[1];
    const ExprIndex other = second_first ? operands[1] : operands[2];
    const Checked type = check(first, due);
    const Checked other_type = type ? check(other, due_from(*type)) : Checked{};
    if (!type || !other_type) return {};
    if (*type != *other_type) {
        return fail(node(operands[2]).offset,
                    fmt::format("'{}' is {} and '{}' is {}; both answers of 'if' must be alike", words(operands[1]),
                                to_text(node(operands[1]).type), words(operands[2]), to_text(node(operands[2]).type)),
                    "");
    }
    return type;
}

Checked Checker::look_up(ExprIndex index) {
    const std::vector<ExprIndex> keys = node(index).operands;
    const PublishedTable* table = handbook_.find(node(index).text);
    if (table == nullptr) {
        std::vector<std::string_view> names;
        for (const auto& entry : handbook_.tables) names.emplace_back(entry.first);
        return fail(node(index).offset, fmt::format("there is no table '{}'", shown(node(index).text)),
                    did_you_mean(node(index).text, names));
    }
    if (keys.size() != table->keys.size()) {
        std::string wanted;
        for (const Column& column : table->keys) wanted += (wanted.empty() ? "" : ", ") + column.name;
        return fail(node(index).offset,
                    fmt::format("the table '{}' is read with {} keys, but {} are given", table->name,
                                table->keys.size(), keys.size()),
                    fmt::format("its keys are: {}", wanted));
    }
    for (std::size_t i = 0; i < keys.size(); ++i) {
        if (!key(keys[i], table->keys[i], *table)) return {};
    }
    return ExprType{table->value.dimension};
}

bool Checker::key(ExprIndex index, const Column& column, const PublishedTable& table) {
    const ExprType wanted = column.is_text ? ExprType{TextType{}} : ExprType{column.dimension};
    const Checked type = check(index, due_from(wanted));
    if (!type) return false;
    if (*type == wanted) return true;
    fail(node(index).offset,
         fmt::format("'{}' is {}, but the key '{}' of the table '{}' is {}", words(index), to_text(*type), column.name,
                     table.name, to_text(wanted)),
         "");
    return false;
}

} // namespace trivet::detail
