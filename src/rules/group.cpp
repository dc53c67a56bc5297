#include "rules/finding.h"
#include "rules/phrases.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>
#include <unordered_set>

namespace trivet {
namespace {

constexpr std::string_view any_subject = "{subject}"; // no name of a user can hold braces

// The name and its short form: "W3" of "W3 (supply.+ to main_fuse.in)".
std::string_view short_name(std::string_view name) { return name.substr(0, name.find(" (")); }

bool is_name_character(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
           c == '.';
}

// `text` with `name` as a whole word taken out; "W1" is not found in "W12".
std::string without_name(std::string text, std::string_view name, std::string_view instead) {
    if (name.empty()) return text;
    std::size_t at = 0;
    while ((at = text.find(name, at)) != std::string::npos) {
        const std::size_t end = at + name.size();
        const bool whole =
            (at == 0 || !is_name_character(text[at - 1])) && (end == text.size() || !is_name_character(text[end]));
        if (whole) text.replace(at, name.size(), instead);
        at += whole ? instead.size() : name.size();
    }
    return text;
}

std::vector<std::string> without_name(const std::vector<std::string>& texts, std::string_view name,
                                      std::string_view instead) {
    std::vector<std::string> result;
    for (const std::string& text : texts) {
        const std::string open = without_name(without_name(text, name, any_subject), short_name(name), any_subject);
        result.push_back(instead == any_subject ? open : without_name(open, any_subject, instead));
    }
    return result;
}

std::string key_of(const Finding& finding, std::string_view name) {
    if (finding.verdict == Verdict::fail) {
        return fmt::format("{}\n{}", finding.rule->name, render(finding.rule->message, finding, any_subject));
    }
    if (finding.verdict == Verdict::pass) return fmt::format("pass\n{}", finding.rule->name);
    return fmt::format("missing\n{}", obstacle(without_name(finding.missing, name, any_subject),
                                               without_name(finding.reasons, name, any_subject)));
}

template <class T> void add_once(std::vector<T>& list, const T& item) {
    if (std::ranges::find(list, item) == list.end()) list.push_back(item);
}

std::string grouped_sentence(const FindingGroup& group, const Finding& first, const FactTable& facts) {
    if (group.members.size() == 1) return message(first, facts);
    std::vector<std::string> subjects;
    for (const SubjectId subject : group.subjects) subjects.push_back(facts.subject(subject).name);
    if (group.verdict == Verdict::fail) {
        std::erase(subjects, facts.subject(first.subject).name);
        const std::string others = subjects.empty() ? "" : fmt::format(" The same for {}.", enumerated(subjects));
        return message(first, facts) + others;
    }
    if (group.verdict == Verdict::pass) {
        return fmt::format("{}: {}.", enumerated(subjects), inside_sentence(first.rule->title));
    }
    std::vector<std::string> once; // a heater is a load as well
    std::unordered_set<std::string_view> named;
    for (const std::string& subject : subjects)
        if (named.insert(short_name(subject)).second) once.emplace_back(short_name(subject));
    const std::string& name = facts.subject(first.subject).name;
    const std::string all = enumerated(once);
    const std::string why = obstacle(without_name(first.missing, name, all), without_name(first.reasons, name, all));
    const bool names_all = once.size() == 1 || why.find(all) != std::string::npos;
    const std::string about = names_all ? "" : fmt::format(" for {}", all);
    if (group.rules.size() == 1) {
        return fmt::format("Cannot tell{} whether {}: {}.", about, inside_sentence(first.rule->title), why);
    }
    const std::vector<std::string> rules(group.rules.begin(), group.rules.end());
    constexpr std::size_t every_rule = 1000;
    return fmt::format("Cannot tell{}: {}. Rules that need it: {}.", about, why, enumerated(rules, every_rule));
}

} // namespace

std::vector<FindingGroup> group(std::span<const Finding> findings, const FactTable& facts) {
    std::vector<FindingGroup> groups;
    std::unordered_map<std::string, std::size_t> known;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        const Finding& finding = findings[i];
        const std::string key = key_of(finding, facts.subject(finding.subject).name);
        const auto [entry, is_new] = known.try_emplace(key, groups.size());
        if (is_new) {
            groups.push_back({});
            groups.back().verdict = finding.verdict;
            groups.back().consequence = finding.rule->consequence;
        }
        FindingGroup& group = groups[entry->second];
        group.members.push_back(i);
        group.consequence = std::min(group.consequence, finding.rule->consequence);
        add_once(group.rules, std::string_view(finding.rule->name));
        if (group.subjects.empty() || group.subjects.back() != finding.subject)
            group.subjects.push_back(finding.subject);
    }
    for (FindingGroup& group : groups) {
        std::ranges::sort(group.subjects);
        group.subjects.erase(std::unique(group.subjects.begin(), group.subjects.end()), group.subjects.end());
        group.sentence = grouped_sentence(group, findings[group.members.front()], facts);
    }
    return groups;
}

} // namespace trivet
