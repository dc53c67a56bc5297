#include "rules/evaluate_rules.h"

#include "expr/evaluate.h"
#include "rules/evidence.h"

#include <fmt/format.h>

#include <algorithm>
#include <deque>

namespace trivet {
namespace {

// One rule at work: names bound once, then asked subject after subject. Without a trace nothing is allocated.
class RuleRun {
public:
    RuleRun(const RuleRun&) = delete; // names are bound to this object
    RuleRun& operator=(const RuleRun&) = delete;
    RuleRun(const Rule& rule, const FactTable& facts, const Policy& policy, const Handbook& handbook)
        : rule_(rule)
        , facts_(facts)

        , tables_(handbook)
        , lets_(rule.lets.size())
        , slots_([this](std::uint32_t slot) { return value_of(slot); }) {
        for (const RuleName& name : rule.names) {
            items_.push_back(name.kind == NameKind::policy ? policy.find(name.name) : nullptr);
        }
    }

    void judge(SubjectId subject, EvidenceDepth depth, std::vector<Finding>& findings) {
        subject_ = subject;
        Finding finding;
        finding.rule = &rule_;
        finding.subject = subject;
        const auto verdict = decide(finding, nullptr);
        if (!verdict) return;
        if (*verdict != Verdict::pass || depth == EvidenceDepth::everything) {
            not_computed_.clear();
            Trace trace;
            decide(finding, &trace);
            collect_evidence(finding, trace);
        }
        findings.push_back(std::move(finding));
    }

private:
    struct LetState {
        bool known = false;
        Outcome outcome;
        Trace trace;
    };

    // Empty where the rule does not apply.
    std::optional<Verdict> decide(Finding& finding, Trace* trace) {
        trace_ = trace;
        for (LetState& let : lets_) let.known = false;
        Outcome applies{{.kind = ValueRef::Kind::truth, .truth = true, .text = {}}, {}};
        if (rule_.applies) applies = evaluate(*rule_.applies, slots_, tables_, trace);
        if (applies.value.is_false()) return {};
        const Outcome require = evaluate(rule_.require, slots_, tables_, trace);
        finding.margin.reset();
        if (require.value.is_true()) {
            finding.verdict = Verdict::pass;
        } else if (require.value.is_false() && applies.value.is_true()) {
            finding.verdict = Verdict::fail;
        } else {
            finding.verdict = Verdict::cannot_tell;
            note_unknown(finding, applies.value);
            note_unknown(finding, require.value);
            return finding.verdict;
        }
        if (require.deciding) finding.margin = require.deciding.ratio;
        if (trace != nullptr) finding.needs = comparison_text(require.deciding);
        return finding.verdict;
    }

    void note_unknown(Finding& finding, const ValueRef& value) const {
        if (trace_ == nullptr || value.is_known() || value.unknown == nullptr) return;
        const auto add = [](std::vector<std::string>& to, const std::vector<std::string>& from) {
            for (const std::string& text : from) {
                if (std::ranges::find(to, text) == to.end()) to.push_back(text);
            }
        };
        add(finding.missing, value.unknown->missing);
        add(finding.reasons, value.unknown->reasons);
    }

    Outcome value_of(std::uint32_t slot) {
        const RuleName& name = rule_.names[slot];
        if (name.kind == NameKind::let) return let_value(name.index);
        if (name.kind == NameKind::policy) return policy_value(slot);
        const Fact* fact = facts_.find(subject_, {static_cast<std::uint16_t>(name.index)});
        if (fact == nullptr) return not_computed(name.name);
        Outcome outcome;
        outcome.value = refer_to(fact->value);
        if (const Unknown* why = outcome.value.unknown;
            why != nullptr && why->missing.empty() && why->reasons.empty()) {
            return not_computed(name.name);
        }
        return outcome;
    }

    Outcome let_value(std::uint32_t index) {
        LetState& let = lets_[index];
        if (let.known) return let.outcome;
        let.trace.slots.clear();
        let.trace.unknowns.clear();
        let.outcome = evaluate(rule_.lets[index].expression, slots_, tables_, trace_ == nullptr ? nullptr : &let.trace);
        let.known = true;
        return let.outcome;
    }

    Outcome policy_value(std::uint32_t slot) {
        const PolicyItem* item = items_[slot];
        if (item == nullptr) return not_computed(rule_.names[slot].name);
        return {{.kind = ValueRef::Kind::number, .si = item->value.si, .text = {}}, {}};
    }

    Outcome not_computed(std::string_view name) {
        Outcome outcome;
        if (trace_ == nullptr) return outcome;
        outcome.value.unknown = &not_computed_.emplace_back(
            Unknown{{}, {fmt::format("{} of {} is not known", name, facts_.subject(subject_).name)}});
        return outcome;
    }

    void collect_evidence(Finding& finding, const Trace& trace) {
        std::vector<std::uint32_t> slots;
        for (const std::uint32_t slot : trace.slots) add_slot(slot, slots);
        for (const std::uint32_t slot : rule_.shown) add_slot(slot, slots);
        finding.evidence.reserve(slots.size());
        for (const std::uint32_t slot : slots) finding.evidence.push_back(evidence_of(slot));
    }

    // A let is followed by what it was computed from.
    void add_slot(std::uint32_t slot, std::vector<std::uint32_t>& slots) {
        if (std::ranges::find(slots, slot) != slots.end()) return;
        slots.push_back(slot);
        const RuleName& name = rule_.names[slot];
        if (name.kind != NameKind::let) return;
        let_value(name.index);
        const std::vector<std::uint32_t> inner = lets_[name.index].trace.slots;
        for (const std::uint32_t inner_slot : inner) add_slot(inner_slot, slots);
    }

    Evidence evidence_of(std::uint32_t slot) {
        const RuleName& name = rule_.names[slot];
        const ValueRef value = value_of(slot).value;
        const ExprType type = type_of(slot);
        Evidence evidence;
        evidence.name = name.name;
        evidence.value = value_text(value, type);
        if (value.kind == ValueRef::Kind::number) evidence.quantity = std::get<AnyQuantity>(to_value(value, type));
        switch (name.kind) {
        case NameKind::let:
            evidence.formula = rule_.lets[name.index].expression.text;
            evidence.place = rule_.lets[name.index].place;
            break;
        case NameKind::policy:
            if (const PolicyItem* item = items_[slot]) describe(*item, evidence);
            break;
        case NameKind::fact:
            if (const Fact* fact = facts_.find(subject_, {static_cast<std::uint16_t>(name.index)})) {
                evidence.circumstance = facts_.describe(fact->circumstance);
                evidence.place = fact->place;
                evidence.certainty = fact->certainty;
            }
        }
        return evidence;
    }

    static void describe(const PolicyItem& item, Evidence& evidence) {
        evidence.place = item.place;
        evidence.certainty = Certainty::stated;
        if (!item.changed) return;
        const ValueRef shipped{.kind = ValueRef::Kind::number, .si = item.shipped.si, .text = {}};
        evidence.circumstance = fmt::format("changed in [policy] from {}", value_text(shipped, item.shipped.dimension));
    }

    ExprType type_of(std::uint32_t slot) const {
        const RuleName& name = rule_.names[slot];
        switch (name.kind) {
        case NameKind::let:
            return rule_.lets[name.index].type;
        case NameKind::fact:
            return declaration({static_cast<std::uint16_t>(name.index)}).type;
        case NameKind::policy:
            break;
        }
        return items_[slot] == nullptr ? dim::number : items_[slot]->value.dimension;
    }

    const Rule& rule_;
    const FactTable& facts_;
    LookupCache tables_;
    std::vector<LetState> lets_;
    std::vector<const PolicyItem*> items_; // by slot; null for other names
    std::deque<Unknown> not_computed_;
    SlotValues slots_;
    SubjectId subject_;
    Trace* trace_ = nullptr;
};

} // namespace

std::vector<Finding> evaluate_rules(const RuleSet& rules, const FactTable& facts, const Policy& policy,
                                    const Handbook& handbook, bool only_refusing, EvidenceDepth depth) {
    std::vector<Finding> findings;
    for (std::size_t i = 0; i < subject_kind_names.size(); ++i) {
        const auto kind = static_cast<SubjectKind>(i);
        std::deque<RuleRun> runs;
        for (const Rule& rule : rules.rules) {
            if (rule.subject == kind && (rule.refuses || !only_refusing))
                runs.emplace_back(rule, facts, policy, handbook);
        }
        findings.reserve(findings.size() + runs.size() * facts.of_kind(kind).size());
        // All rules on one subject before the next one: its facts are then read from memory once.
        for (const SubjectId subject : facts.of_kind(kind)) {
            for (RuleRun& run : runs) run.judge(subject, depth, findings);
        }
    }
    return findings;
}

} // namespace trivet
