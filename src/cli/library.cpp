#include "cli/library.h"

#include "cli/disk.h"
#include "library/embedded.h"

#include <fmt/format.h>

#include <filesystem>

namespace trivet {

namespace {

void append(Errors& to, Errors from) {
    to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

std::vector<SourceFile> read_folders(Sources& sources, const std::vector<std::string>& folders, Errors& errors) {
    std::vector<SourceFile> files;
    for (const std::string& folder : folders) {
        auto names = toml_files(sources, folder);
        append(errors, std::move(names.errors));
        for (const std::string& name : names.value.value_or(std::vector<std::string>{})) {
            auto file = read_file(sources, name);
            append(errors, std::move(file.errors));
            if (file.value) files.push_back(*file.value);
        }
    }
    return files;
}

Handbook embedded_handbook(Sources& sources, Errors& errors) {
    Handbook handbook;
    for (const EmbeddedFile& file : embedded_tables()) {
        auto table = read_table(sources.add_view(std::string(file.path), file.text));
        append(errors, std::move(table.errors));
        if (table.value) handbook.tables.emplace(table.value->name, std::move(*table.value));
    }
    return handbook;
}

// A folder may hold rules and, in tables/, published tables.
bool is_table(const SourceFile& file) { return std::filesystem::path(file.name).parent_path().filename() == "tables"; }

} // namespace

Loaded<Catalog> load_catalog(Sources& sources, const Folders& folders, const std::string& design) {
    Loaded<Catalog> result{Catalog{}, {}};
    for (const EmbeddedPart& part : embedded_part_index())
        result.value->add_split({std::string(part.name), std::string(part.category),
                                 sources.add_view(std::string(part.path), part.text, part.first_line)});
    std::vector<std::string> own = folders.parts;
    const std::string beside = folder_of(design) + "/parts";
    if (!design.empty() && is_folder(beside)) own.insert(own.begin(), beside);
    for (const SourceFile& file : read_folders(sources, own, result.errors)) {
        const std::string category = std::filesystem::path(file.name).stem().string();
        append(result.errors, result.value->add_file(sources, category, file.name, file.text, true));
    }
    return result;
}

Loaded<Library> load_library(Sources& sources, const Folders& folders, const std::string& design) {
    Loaded<Library> result{Library{}, {}};
    auto catalog = load_catalog(sources, folders, design);
    append(result.errors, std::move(catalog.errors));
    result.value->catalog = std::move(*catalog.value);
    for (const std::string& name : result.value->catalog.replaced())
        result.value->notes.push_back(fmt::format("your own part {} is used instead of the library's", name));

    result.value->handbook = embedded_handbook(sources, result.errors);
    const EmbeddedFile policy_file = embedded_policy();
    auto policy = read_policy(sources.add_view(std::string(policy_file.path), policy_file.text));
    append(result.errors, std::move(policy.errors));
    result.value->policy = std::move(policy.value).value_or(Policy{});

    std::vector<SourceFile> files;
    for (const EmbeddedFile& rule : embedded_rules())
        files.push_back(sources.add_view(std::string(rule.path), rule.text));
    for (const SourceFile& file : read_folders(sources, folders.rules, result.errors)) {
        if (!is_table(file)) {
            files.push_back(file);
            continue;
        }
        auto table = read_table(file);
        append(result.errors, std::move(table.errors));
        if (table.value) result.value->handbook.tables.insert_or_assign(table.value->name, std::move(*table.value));
    }
    auto rules = read_rules(files, result.value->policy, result.value->handbook);
    append(result.errors, std::move(rules.errors));
    if (rules.value) {
        result.value->rules = std::move(rules.value->set);
        for (const std::string& name : rules.value->replaced)
            result.value->notes.push_back(fmt::format("your own rule {} is used instead of the library's", name));
    }
    return result;
}

} // namespace trivet
