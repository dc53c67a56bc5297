#pragma once

#include "rules/rule_binding.h"
#include "source/document.h"
#include "source/toml_reader.h"

#include <deque>
#include <span>
#include <string_view>
#include <vector>

namespace trivet {

std::string_view file_stem(std::string_view name);   // "rules/wire/lets.toml" -> "lets"
std::string_view folder_name(std::string_view name); // "rules/wire/lets.toml" -> "wire"

// The lets of a table as they stand in the file; names that cannot be lets and too many of them are filed.
std::vector<RuleText> read_lets(TableReader& reader);

// Lets that several rules of one subject use: rules/<subject>/lets.toml, with nothing but a table `let`. A rule's own
// let of the same name wins; a later file replaces an earlier one of the same subject.
class SharedLets {
public:
    SharedLets(std::span<const SourceFile> files, Errors& errors); // `files` must outlive this

    static bool is_one(const SourceFile& file) { return file_stem(file.name) == "lets"; }
    std::span<const RuleText> of(SubjectKind subject) const { return lets_[static_cast<std::size_t>(subject)]; }

private:
    void read(const SourceFile& file, Errors& errors);

    std::deque<Document> documents_; // what the texts point into
    std::vector<std::vector<RuleText>> lets_ = std::vector<std::vector<RuleText>>(subject_kind_names.size());
};

} // namespace trivet
