#include "rules/explain.h"

#include "expr/typecheck.h"
#include "rules/text_layout.h"
#include "units/format.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace trivet {
namespace {

std::string heading(std::string_view text) { return fmt::format("\n{}\n", text); }

std::string section(std::string_view title, std::string_view text) {
    return text.empty() ? std::string{} : heading(title) + wrapped(text, 2);
}

std::string formula_section(const Rule& rule) {
    std::string text = heading("How it is computed");
    if (rule.applies) text += entry("applies if", rule.applies->text, 10);
    text += entry("requires", rule.require.text, 10);
    for (const Let& let : rule.lets) text += entry("where", fmt::format("{} = {}", let.name, let.expression.text), 10);
    return text;
}

std::string fact_entry(const FactDeclaration& fact) {
    return entry(fact.name, fmt::format("{} [{}]", fact.text, to_text(fact.type)), 22);
}

std::string facts_section(const Rule& rule) {
    std::set<std::uint32_t> facts;
    for (const RuleName& name : rule.names) {
        if (name.kind == NameKind::fact) facts.insert(name.index);
    }
    if (facts.empty()) return {};
    std::string text =
        heading(fmt::format("Facts of the {} it uses", subject_kind_names[static_cast<std::size_t>(rule.subject)]));
    for (const std::uint32_t fact : facts) text += fact_entry(declaration({static_cast<std::uint16_t>(fact)}));
    return text;
}

std::string policy_entry(const PolicyItem& item) {
    const std::string value = item.changed
                                  ? fmt::format("{}, changed from {}.", to_text(item.value), to_text(item.shipped))
                                  : fmt::format("{}.", to_text(item.value));
    return entry(item.name, fmt::format("{} {} Source: {}.", value, item.text, item.source), 22);
}

std::string policy_section(const Rule& rule, const Policy& policy) {
    std::string text;
    for (const RuleName& name : rule.names) {
        const PolicyItem* item = name.kind == NameKind::policy ? policy.find(name.name) : nullptr;
        if (item != nullptr) text += policy_entry(*item);
    }
    return text.empty() ? text : heading("Policy (a design may change it)") + text;
}

void collect_tables(const Expression& expression, std::set<std::string>& names) {
    for (const ExprNode& node : expression.nodes) {
        if (node.kind == ExprKind::call && node.function == Function::look_up) names.insert(node.text);
    }
}

std::string sources_section(const Rule& rule, const Handbook& handbook) {
    std::string text = heading("Tables and sources");
    for (const std::string& source : rule.source) text += wrapped(source, 2);
    std::set<std::string> names;
    collect_tables(rule.require, names);
    if (rule.applies) collect_tables(*rule.applies, names);
    for (const Let& let : rule.lets) collect_tables(let.expression, names);
    for (const std::string& name : names) {
        const PublishedTable* table = handbook.find(name);
        if (table == nullptr) continue;
        text += entry(name, fmt::format("{}. Source: {} ({}).", table->title, table->source, table->confirmed), 22);
    }
    return text;
}

std::string key_text(const TableKey& key) {
    const auto* text = std::get_if<std::string>(&key);
    return text != nullptr ? *text : to_text(std::get<AnyQuantity>(key));
}

constexpr std::string_view match_text(Match match) {
    switch (match) {
    case Match::exact:
        return "exactly this row";
    case Match::down:
        return "the nearest row at or below the value";
    case Match::up:
        return "the nearest row at or above the value";
    case Match::interpolate:
        return "a straight line between the rows around the value";
    }
    return "";
}

} // namespace

std::string explain_rule(const Rule& rule, const Policy& policy, const Handbook& handbook) {
    const auto consequence = consequence_names[static_cast<std::size_t>(rule.consequence)];
    std::string text = fmt::format("{} ({})\n", rule.name, consequence);
    text += section("What it requires", rule.title + (rule.title.ends_with('.') ? "" : "."));
    text += section("Why", rule.why);
    text += formula_section(rule);
    text += facts_section(rule);
    text += policy_section(rule, policy);
    text += sources_section(rule, handbook);
    text += section("What to do", rule.remedy);
    text += section("What it does not see", rule.limits);
    if (rule.refuses)
        text += section("Note", "A design that fails this rule is refused: nothing else in it is judged.");
    return text;
}

std::string list_rules(const RuleSet& rules) {
    std::string text;
    for (std::size_t kind = 0; kind < subject_kind_names.size(); ++kind) {
        std::string entries;
        for (const Rule& rule : rules.rules) {
            if (static_cast<std::size_t>(rule.subject) != kind) continue;
            const auto consequence = consequence_names[static_cast<std::size_t>(rule.consequence)];
            entries += entry(rule.name, fmt::format("{} ({})", rule.title, consequence), 34);
        }
        if (!entries.empty())
            text += fmt::format("{}{}\n", text.empty() ? "" : "\n", subject_kind_names[kind]) + entries;
    }
    return text;
}

std::string list_facts() {
    std::string text;
    SubjectKind kind{};
    for (const FactDeclaration& fact : fact_schema()) {
        if (text.empty() || fact.subject != kind) {
            text += fmt::format("{}{}\n", text.empty() ? "" : "\n",
                                subject_kind_names[static_cast<std::size_t>(fact.subject)]);
        }
        kind = fact.subject;
        text += fact_entry(fact);
    }
    return text;
}

std::string list_policy(const Policy& policy) {
    std::string text;
    for (const PolicyItem& item : policy.items) text += policy_entry(item);
    return text;
}

std::string explain_table(const PublishedTable& table) {
    std::string text = fmt::format("{}\n", table.name);
    text += section("What it holds", table.title);
    text += section("Source", fmt::format("{} ({})", table.source, table.confirmed));
    text += heading("How it is read");
    std::vector<std::vector<std::string>> rows(1);
    for (const Column& key : table.keys) {
        text += entry(key.name, match_text(key.match), 22);
        rows.front().push_back(key.name);
    }
    rows.front().push_back(table.value.name);
    const bool has_row_sources =
        std::ranges::any_of(table.rows, [](const TableRow& row) { return !row.source.empty(); });
    if (has_row_sources) rows.front().emplace_back("source of the row");
    for (const TableRow& row : table.rows) {
        std::vector<std::string> cells;
        for (const TableKey& key : row.keys) cells.push_back(key_text(key));
        cells.push_back(to_text(AnyQuantity{row.value, table.value.dimension}));
        if (has_row_sources) cells.push_back(row.source);
        rows.push_back(std::move(cells));
    }
    return text + heading("Rows") + columns(rows);
}

} // namespace trivet
