#include "expr/lookup_cache.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

constexpr std::size_t answers_kept = 16;

TableKey key_from(const ValueRef& value, const ExprType& type) {
    if (value.kind == ValueRef::Kind::text) return std::string(value.text);
    const auto* dimension = std::get_if<Dimension>(&type);
    return AnyQuantity{value.si, dimension == nullptr ? dim::number : *dimension};
}

bool is_same(const TableKey& key, const ValueRef& value) {
    if (const auto* text = std::get_if<std::string>(&key)) return *text == value.text;
    return std::get<AnyQuantity>(key).si == value.si;
}

} // namespace

LookupCache::Call& LookupCache::call_of(const ExprNode& node) {
    const auto known = std::ranges::find(calls_, &node, &Call::node);
    if (known != calls_.end()) return *known;
    calls_.push_back({.node = &node, .answers = {}, .oldest = 0});
    calls_.back().answers.reserve(answers_kept);
    return calls_.back();
}

const tl::expected<double, Unknown>& LookupCache::look_up(const Expression& expression, const ExprNode& node,
                                                          std::span<const ValueRef> keys) {
    Call& call = call_of(node);
    for (const Answer& answer : call.answers) {
        if (std::ranges::equal(answer.keys, keys, is_same)) return answer.value;
    }
    Answer answer{{}, 0.0};
    for (std::size_t i = 0; i < keys.size(); ++i) {
        answer.keys.push_back(key_from(keys[i], expression.node(node.operands[i]).type));
    }
    const PublishedTable* table = handbook_->find(node.text);
    if (table == nullptr) {
        answer.value = tl::unexpected(Unknown{{}, {fmt::format("there is no table '{}'", node.text)}});
    } else if (auto found = trivet::look_up(*table, answer.keys)) {
        answer.value = found->si;
    } else {
        answer.value = tl::unexpected(Unknown{{}, {std::move(found.error().reason)}});
    }
    if (call.answers.size() < answers_kept) {
        call.answers.push_back(std::move(answer));
        return call.answers.back().value;
    }
    call.oldest = (call.oldest + 1) % answers_kept;
    return (call.answers[call.oldest] = std::move(answer)).value;
}

} // namespace trivet
