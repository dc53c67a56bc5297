#include "rules/shared_lets.h"

#include "expr/parse.h"
#include "source/suggest.h"
#include "source/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

constexpr std::size_t most_lets = 32;

bool is_let_name(std::string_view name) {
    const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; };
    return !name.empty() && std::ranges::all_of(name, plain) && !(name.front() >= '0' && name.front() <= '9') &&
           name != "subject" && !is_reserved_word(name);
}

} // namespace

std::string_view file_stem(std::string_view name) {
    const std::size_t slash = name.find_last_of('/');
    if (slash != std::string_view::npos) name.remove_prefix(slash + 1);
    if (name.ends_with(".toml")) name.remove_suffix(5);
    return name;
}

std::string_view folder_name(std::string_view name) {
    const std::size_t slash = name.find_last_of('/');
    return slash == std::string_view::npos ? std::string_view{} : file_stem(name.substr(0, slash));
}

std::vector<RuleText> read_lets(TableReader& reader) {
    std::vector<RuleText> lets;
    for (const Node* let : reader.children()) {
        if (let->kind != NodeKind::text) {
            reader.error(ErrorKind::wrong_type, let->place, fmt::format("'{}' is not a text", let->key),
                         "write the expression in quotes");
        } else if (!is_let_name(let->key)) {
            reader.error(ErrorKind::unknown_name, let->key_place,
                         fmt::format("'{}' cannot be the name of a let", shown(let->key)),
                         "use small letters, digits and underscores, and no word of the rule language");
        } else {
            lets.push_back({std::string(let->key), let->text, let->place, let->key_place});
        }
    }
    if (lets.size() > most_lets) {
        reader.error(ErrorKind::too_large, lets[most_lets].key_place,
                     fmt::format("a rule has at most {} lets", most_lets), "split the rule");
        lets.resize(most_lets);
    }
    return lets;
}

SharedLets::SharedLets(std::span<const SourceFile> files, Errors& errors) {
    for (const SourceFile& file : files)
        if (is_one(file)) read(file, errors);
}

void SharedLets::read(const SourceFile& file, Errors& errors) {
    Loaded<Document> document = parse_document(file);
    errors.insert(errors.end(), document.errors.begin(), document.errors.end());
    if (!document.value || !document.errors.empty()) return;
    const std::string_view folder = folder_name(file.name);
    const auto subject = std::ranges::find(subject_kind_names, folder);
    if (subject == subject_kind_names.end()) {
        errors.push_back({ErrorKind::unknown_name,
                          {file.id, 0, 0},
                          fmt::format("shared lets stand in the folder of a subject, and '{}' is none", shown(folder)),
                          did_you_mean(folder, subject_kind_names)});
        return;
    }
    documents_.push_back(std::move(*document.value));
    TableReader reader(documents_.back(), documents_.back().root(), errors);
    auto& lets = lets_[static_cast<std::size_t>(subject - subject_kind_names.begin())];
    lets.clear();
    if (auto table = reader.table("let")) lets = read_lets(*table);
    for (RuleText& let : lets) let.shared_from = &file;
    reader.finish();
}

} // namespace trivet
