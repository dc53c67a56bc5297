#include "rules/phrases.h"

#include "rules/message_template.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

bool is_small(char c) { return c >= 'a' && c <= 'z'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
char capital(char c) { return static_cast<char>(c - 'a' + 'A'); }

std::string_view value_of(const Finding& finding, std::string_view name) {
    const auto found = std::ranges::find(finding.evidence, name, &Evidence::name);
    if (found == finding.evidence.end() || found->value == "not stated") return "unstated";
    return found->value;
}

// "length of W1 (state it in [[wire]])" parted before the bracket.
struct MissingValue {
    std::string_view what;
    std::string_view how; // with the brackets, empty if nothing is said
};
MissingValue parted(std::string_view missing) {
    const std::size_t bracket = missing.find(" (state");
    if (bracket == std::string_view::npos) return {missing, {}};
    return {missing.substr(0, bracket), missing.substr(bracket + 1)};
}

} // namespace

std::string render(std::string_view sentence, const Finding& finding, std::string_view subject_name) {
    const auto pieces = split_template(sentence);
    if (!pieces) return std::string(sentence);
    std::string text;
    bool may_start_small = false; // a user's own name keeps its letters
    for (const TemplatePiece& piece : *pieces) {
        const bool is_subject = piece.is_placeholder && piece.text == subject_placeholder;
        if (text.empty()) may_start_small = is_subject;
        text += is_subject ? subject_name : piece.is_placeholder ? value_of(finding, piece.text) : piece.text;
    }
    if (!text.empty() && !may_start_small && is_small(text[0])) text[0] = capital(text[0]);
    return text;
}

std::string enumerated(std::span<const std::string> items, std::size_t limit) {
    const std::size_t named = items.size() <= limit ? items.size() : limit - 1;
    std::string text;
    for (std::size_t i = 0; i < named; ++i) {
        const bool last = i + 1 == items.size();
        text += i == 0 ? "" : last ? " and " : ", ";
        text += items[i];
    }
    if (named < items.size()) text += fmt::format(" and {} more", items.size() - named);
    return text;
}

std::string inside_sentence(std::string_view title) {
    std::string text(title);
    while (text.ends_with('.')) text.pop_back();
    const bool is_abbreviation = text.size() > 1 && is_capital(text[1]);
    if (!text.empty() && is_capital(text[0]) && !is_abbreviation) text[0] = static_cast<char>(text[0] - 'A' + 'a');
    return text;
}

std::string obstacle(const std::vector<std::string>& missing, const std::vector<std::string>& reasons) {
    std::vector<std::string> names;
    std::string_view how;
    bool same_way = true;
    for (const std::string& text : missing) {
        const MissingValue value = parted(text);
        same_way = same_way && (names.empty() || value.how == how);
        how = value.how;
        names.emplace_back(value.what);
    }
    std::string text;
    if (!names.empty()) {
        text = same_way ? enumerated(names) : enumerated(missing);
        text += names.size() == 1 ? " is not stated" : " are not stated";
        if (same_way && !how.empty()) text += fmt::format(" {}", how);
    }
    for (const std::string& reason : reasons) {
        text += text.empty() ? "" : "; ";
        text += reason;
    }
    return text.empty() ? "a value that it needs is not known" : text;
}

std::string message(const Finding& finding, const FactTable& facts) {
    const Rule& rule = *finding.rule;
    const std::string& subject = facts.subject(finding.subject).name;
    switch (finding.verdict) {
    case Verdict::fail:
        return render(rule.message, finding, subject);
    case Verdict::pass:
        return finding.needs.empty() ? fmt::format("{}: {}.", subject, inside_sentence(rule.title))
                                     : fmt::format("{}: {} ({}).", subject, inside_sentence(rule.title), finding.needs);
    case Verdict::cannot_tell:
        break;
    }
    const std::string why = obstacle(finding.missing, finding.reasons);
    const bool names_subject = rule.subject == SubjectKind::build || why.find(subject) != std::string::npos;
    return fmt::format("Cannot tell {}whether {}: {}.", names_subject ? "" : fmt::format("for {} ", subject),
                       inside_sentence(rule.title), why);
}

std::string remedy(const Finding& finding, const FactTable& facts) {
    if (finding.verdict != Verdict::cannot_tell) {
        return render(finding.rule->remedy, finding, facts.subject(finding.subject).name);
    }
    if (finding.missing.empty())
        return "Let a competent person judge this, or change the design so that it can be told.";
    constexpr std::string_view lead = "(state it ";
    std::vector<std::string> steps;
    for (const std::string& text : finding.missing) {
        const MissingValue value = parted(text);
        const bool says_where = value.how.starts_with(lead) && value.how.ends_with(')');
        steps.push_back(says_where ? fmt::format("{} {}", value.what,
                                                 value.how.substr(lead.size(), value.how.size() - lead.size() - 1))
                                   : std::string(text));
    }
    return fmt::format("State {}.", enumerated(steps));
}

} // namespace trivet
