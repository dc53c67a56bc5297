#include "rules/rule_binding.h"

#include "expr/typecheck.h"
#include "rules/message_template.h"
#include "rules/text_place.h"
#include "source/suggest.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

enum class LetState : std::uint8_t { untouched, in_progress, bound, broken };

struct LetWork {
    const RuleText* text = nullptr;
    LetState state{};
    std::uint32_t bound_index = 0; // into Rule::lets
};

class Binder {
public:
    Binder(Rule& rule, const SourceFile& file, const Policy& policy, const Handbook& handbook, Errors& errors)
        : rule_(rule)
        , file_(file)
        , policy_(policy)
        , handbook_(handbook)
        , errors_(errors) {}

    void run(const RuleTexts& texts) {
        for (const RuleText& let : texts.lets) lets_.push_back({.text = &let});
        collect_names();
        for (LetWork& let : lets_)
            if (let.text->shared_from == nullptr) bind_let(let);
        if (texts.applies) {
            if (auto expression = bind(*texts.applies)) {
                require_truth(*expression, *texts.applies);
                rule_.applies = std::move(*expression);
            }
        }
        if (auto expression = bind(texts.require)) {
            require_truth(*expression, texts.require);
            rule_.require = std::move(*expression);
        }
        for (const RuleText& sentence : texts.sentences) bind_sentence(sentence);
        report_unused_lets();
    }

private:
    void collect_names() {
        for (const LetWork& let : lets_) names_in_reach_.push_back(let.text->name);
        const FactsOfKind facts = facts_of(rule_.subject);
        for (const FactDeclaration& fact : fact_schema().subspan(facts.first, facts.count)) {
            names_in_reach_.push_back(fact.name);
        }
        for (const PolicyItem& item : policy_.items) names_in_reach_.push_back(item.name);
    }

    void bind_let(LetWork& let) {
        if (let.state != LetState::untouched) return;
        let.state = LetState::in_progress;
        auto expression = bind(*let.text);
        if (let.state == LetState::broken || !expression) {
            let.state = LetState::broken;
            return;
        }
        let.state = LetState::bound;
        let.bound_index = static_cast<std::uint32_t>(rule_.lets.size());
        const ExprType type = expression->type();
        rule_.lets.push_back({let.text->name, std::move(*expression), type, let.text->place});
    }

    std::optional<Expression> bind(const RuleText& text) {
        auto parsed = parse_expression(text.text);
        if (!parsed) {
            error(text, parsed.error());
            return {};
        }
        const bool depended_before = depends_on_broken_;
        depends_on_broken_ = false;
        const auto type = check_types(
            *parsed, [this](std::string_view name) { return meaning(name); }, handbook_, names_in_reach_);
        if (!type && !depends_on_broken_) error(text, type.error());
        depends_on_broken_ = depended_before;
        if (!type) return {};
        return std::move(*parsed);
    }

    std::optional<NamedType> meaning(std::string_view name) {
        for (LetWork& let : lets_) {
            if (let.text->name != name) continue;
            if (let.state == LetState::in_progress) report_circle(let);
            bind_let(let);
            if (let.state == LetState::bound) {
                return NamedType{rule_.lets[let.bound_index].type, slot(name, NameKind::let, let.bound_index)};
            }
            depends_on_broken_ = true;
            return {};
        }
        if (const FactLookup fact = find_fact(rule_.subject, name); fact.found) {
            return NamedType{declaration(fact.id).type, slot(name, NameKind::fact, fact.id.value)};
        }
        if (const PolicyItem* item = policy_.find(name)) {
            const auto index = static_cast<std::uint32_t>(item - policy_.items.data());
            return NamedType{item->value.dimension, slot(name, NameKind::policy, index)};
        }
        return {};
    }

    void report_circle(LetWork& let) {
        let.state = LetState::broken;
        errors_.push_back({ErrorKind::bad_expression, let.text->key_place,
                           fmt::format("'{}' is defined by itself, directly or through other lets", let.text->name),
                           "break the circle"});
    }

    std::uint32_t slot(std::string_view name, NameKind kind, std::uint32_t index) {
        const auto known = std::ranges::find(rule_.names, name, &RuleName::name);
        if (known != rule_.names.end()) return static_cast<std::uint32_t>(known - rule_.names.begin());
        rule_.names.push_back({std::string(name), kind, index});
        return static_cast<std::uint32_t>(rule_.names.size() - 1);
    }

    void require_truth(const Expression& expression, const RuleText& text) {
        if (std::holds_alternative<TruthType>(expression.type())) return;
        error(text, {0, fmt::format("'{}' is {}, but it must be a truth value", text.name, to_text(expression.type())),
                     "write a comparison, for example 'current <= rated_current'"});
    }

    void bind_sentence(const RuleText& sentence) {
        const auto pieces = split_template(sentence.text);
        if (!pieces) {
            error(sentence, {pieces.error().offset, pieces.error().message, "write {name}"});
            return;
        }
        for (const TemplatePiece& piece : *pieces) {
            if (!piece.is_placeholder || piece.text == subject_placeholder) continue;
            depends_on_broken_ = false;
            const auto named = meaning(piece.text);
            if (named) {
                if (std::ranges::find(rule_.shown, named->slot) == rule_.shown.end())
                    rule_.shown.push_back(named->slot);
            } else if (!depends_on_broken_) {
                error(sentence, {piece.offset, fmt::format("'{{{}}}' is not a name known here", shown(piece.text)),
                                 did_you_mean(piece.text, names_in_reach_)});
            }
        }
    }

    void mark_used(std::uint32_t slot, std::vector<bool>& used) const {
        const RuleName& name = rule_.names[slot];
        if (name.kind != NameKind::let || used[name.index]) return;
        used[name.index] = true;
        mark_used(rule_.lets[name.index].expression, used);
    }
    void mark_used(const Expression& expression, std::vector<bool>& used) const {
        for (const ExprNode& node : expression.nodes) {
            if (node.kind == ExprKind::name) mark_used(node.slot, used);
        }
    }

    // Only when everything else is right: a broken expression does not show what it uses.
    void report_unused_lets() {
        const bool any_broken =
            std::ranges::any_of(errors_, [&](const InputError& found) { return found.place.file == file_.id; });
        if (any_broken) return;
        std::vector<bool> used(rule_.lets.size());
        mark_used(rule_.require, used);
        if (rule_.applies) mark_used(*rule_.applies, used);
        for (const std::uint32_t shown_slot : rule_.shown) mark_used(shown_slot, used);
        for (const LetWork& let : lets_) {
            if (let.text->shared_from != nullptr || let.state != LetState::bound || used[let.bound_index]) continue;
            errors_.push_back({ErrorKind::bad_expression, let.text->key_place,
                               fmt::format("'{}' is defined but nothing uses it", let.text->name),
                               "use it or take it out"});
        }
    }

    void error(const RuleText& text, const ExprProblem& problem) {
        const SourceFile& file = text.shared_from != nullptr ? *text.shared_from : file_;
        errors_.push_back({ErrorKind::bad_expression, place_in_text(file, text.place, problem.offset), problem.message,
                           problem.hint});
    }

    Rule& rule_;
    const SourceFile& file_;
    const Policy& policy_;
    const Handbook& handbook_;
    Errors& errors_;
    std::vector<LetWork> lets_;
    std::vector<std::string_view> names_in_reach_;
    bool depends_on_broken_ = false;
};

} // namespace

void bind_rule(Rule& rule, const RuleTexts& texts, const SourceFile& file, const Policy& policy,
               const Handbook& handbook, Errors& errors) {
    Binder(rule, file, policy, handbook, errors).run(texts);
}

} // namespace trivet
