#include "rules/read_rules.h"

#include "expr/parse.h"
#include "rules/rule_binding.h"
#include "rules/shared_lets.h"
#include "source/toml_reader.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

bool is_kebab_case(std::string_view name) {
    const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
    return !name.empty() && std::ranges::all_of(name, plain) && name.front() != '-' && name.back() != '-' &&
           name.find("--") == std::string_view::npos;
}

class RuleReader {
public:
    RuleReader(const SourceFile& file, const Policy& policy, const Handbook& handbook, const SharedLets& shared,
               Errors& errors)
        : file_(file)
        , policy_(policy)
        , handbook_(handbook)
        , shared_(shared)
        , errors_(errors) {}

    // Present even with errors, except where the file is not TOML.
    std::optional<Rule> run() {
        const Loaded<Document> document = parse_document(file_);
        errors_.insert(errors_.end(), document.errors.begin(), document.errors.end());
        if (!document.value || !document.errors.empty()) return {};
        TableReader reader(*document.value, document.value->root(), errors_);
        read_name();
        const auto subject = reader.required_word("subject", subject_kind_names);
        const auto consequence = reader.required_word("consequence", consequence_names);
        if (subject) read_subject(*subject);
        if (consequence) rule_.consequence = static_cast<Consequence>(consequence->value);
        if (const auto refuses = reader.flag("refuses")) rule_.refuses = refuses->value;
        read_texts(reader);
        RuleTexts texts = read_expressions(reader);
        reader.finish();
        if (subject) bind_rule(rule_, texts, file_, policy_, handbook_, errors_);
        return std::move(rule_);
    }

private:
    void read_name() {
        rule_.name = file_stem(file_.name);
        rule_.file = file_.name;
        rule_.place = {file_.id, file_.first_line, 1};
        if (is_kebab_case(rule_.name)) return;
        errors_.push_back({ErrorKind::unknown_name,
                           {file_.id, 0, 0},
                           fmt::format("'{}' cannot be the name of a rule", shown(rule_.name)),
                           "name the file with small letters and hyphens, for example conductor-current.toml"});
    }

    void read_subject(const Stated<std::size_t>& subject) {
        rule_.subject = static_cast<SubjectKind>(subject.value);
        const std::string_view folder = folder_name(file_.name);
        const std::string_view name = subject_kind_names[subject.value];
        if (folder == name || std::ranges::find(subject_kind_names, folder) == subject_kind_names.end()) return;
        errors_.push_back({ErrorKind::unknown_name, subject.place,
                           fmt::format("the rule is about '{}' but stands in the folder '{}'", name, folder),
                           fmt::format("move the file to '{}'", name)});
    }

    void read_texts(TableReader& reader) {
        rule_.title = filled(reader, "title");
        rule_.why = filled(reader, "why");
        rule_.limits = filled(reader, "limits");
        for (const auto& source : reader.texts("source")) rule_.source.emplace_back(source.value);
        if (rule_.source.empty()) {
            reader.error(ErrorKind::missing_key, reader.place_of("source").value_or(reader.place()),
                         "'source' is missing", "name the standard, or write source = \"common practice, no source\"");
        }
    }

    std::string filled(TableReader& reader, std::string_view key) {
        const auto text = reader.required_text(key);
        if (!text) return {};
        if (text->value.find_first_not_of(" \t\r\n") == std::string_view::npos) {
            reader.error(ErrorKind::out_of_range, text->place, fmt::format("'{}' is empty", key), "write a sentence");
        }
        return std::string(text->value);
    }

    RuleTexts read_expressions(TableReader& reader) {
        RuleTexts texts;
        for (const std::string_view key : {"message", "remedy"}) {
            const auto text = reader.required_text(key);
            if (!text) continue;
            (key == "message" ? rule_.message : rule_.remedy) = text->value;
            texts.sentences.push_back(rule_text(reader, key, *text));
        }
        if (const auto applies = reader.text("applies")) texts.applies = rule_text(reader, "applies", *applies);
        if (const auto require = reader.required_text("require"))
            texts.require = rule_text(reader, "require", *require);
        if (auto lets = reader.table("let")) texts.lets = read_lets(*lets);
        for (const RuleText& shared : shared_.of(rule_.subject))
            if (std::ranges::find(texts.lets, shared.name, &RuleText::name) == texts.lets.end())
                texts.lets.push_back(shared);
        return texts;
    }

    static RuleText rule_text(const TableReader& reader, std::string_view key, const Stated<std::string_view>& text) {
        return {std::string(key), text.value, text.place, reader.place_of(key).value_or(text.place)};
    }

    const SourceFile& file_;
    const Policy& policy_;
    const Handbook& handbook_;
    const SharedLets& shared_;
    Errors& errors_;
    Rule rule_;
};

} // namespace

const Rule* RuleSet::find(std::string_view name) const {
    const auto found =
        std::ranges::lower_bound(rules, name, {}, [](const Rule& rule) { return std::string_view(rule.name); });
    return found != rules.end() && found->name == name ? &*found : nullptr;
}

Loaded<RulesRead> read_rules(std::span<const SourceFile> files, const Policy& policy, const Handbook& handbook) {
    Loaded<RulesRead> result{RulesRead{}, {}};
    std::vector<Rule>& rules = result.value->set.rules;
    const SharedLets shared(files, result.errors);
    for (const SourceFile& file : files) {
        if (SharedLets::is_one(file)) continue;
        auto rule = RuleReader(file, policy, handbook, shared, result.errors).run();
        if (!rule) continue;
        const auto known = std::ranges::find(rules, rule->name, &Rule::name);
        if (known == rules.end()) {
            rules.push_back(std::move(*rule));
        } else {
            result.value->replaced.push_back(rule->name);
            *known = std::move(*rule);
        }
    }
    std::ranges::sort(rules, {}, &Rule::name);
    tidy(result.errors);
    if (!result.errors.empty()) result.value.reset();
    return result;
}

} // namespace trivet
