#include "catalog/catalog.h"

#include "catalog/read_part.h"
#include "catalog/split.h"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

namespace trivet {

Errors Catalog::add_file(Sources& sources, const std::string& category, const std::string& name, std::string_view text,
                         bool users_own) {
    const SourceFile whole = sources.add_view(name, text);
    SplitText split = split_parts(text, whole.id);
    std::unordered_map<std::string_view, std::uint32_t> lines;
    std::vector<Entry> fresh;
    for (const Chunk& chunk : split.chunks) {
        const Place place{whole.id, chunk.first_line, 1};
        const auto [first, is_new] = lines.emplace(chunk.name, chunk.first_line);
        const Entry* known = entry(chunk.name);
        const bool elsewhere = known != nullptr && known->users_own == users_own;
        if (!is_new || elsewhere) {
            const std::string where =
                is_new ? std::string(known->text.file.name) : fmt::format("line {}", first->second);
            split.errors.push_back({ErrorKind::duplicate_name, place,
                                    fmt::format("the part '{}' is already defined in {}", chunk.name, where),
                                    "give one of them another name; all tables of a part stand together"});
            continue;
        }
        PartText part{std::string(chunk.name), category, sources.add_view(name, chunk.text, chunk.first_line)};
        fresh.push_back({std::move(part), users_own, nullptr});
    }
    add(std::move(fresh));
    tidy(split.errors);
    return split.errors;
}

void Catalog::add_split(PartText text) {
    if (entries_.empty() || entries_.back().text.name < text.name) {
        entries_.push_back({std::move(text), false, nullptr});
        return;
    }
    const auto place = std::ranges::lower_bound(entries_, std::string_view(text.name), {},
                                                [](const Entry& e) { return std::string_view(e.text.name); });
    if (place == entries_.end() || place->text.name != text.name) {
        entries_.insert(place, {std::move(text), false, nullptr});
    } else if (place->users_own) {
        replaced_.push_back(text.name);
    }
}

void Catalog::add(std::vector<Entry> fresh) {
    const std::size_t before = entries_.size();
    for (Entry& added : fresh) {
        const auto known =
            std::lower_bound(entries_.begin(), entries_.begin() + static_cast<std::ptrdiff_t>(before), added.text.name,
                             [](const Entry& e, const std::string& name) { return e.text.name < name; });
        if (known == entries_.begin() + static_cast<std::ptrdiff_t>(before) || known->text.name != added.text.name) {
            entries_.push_back(std::move(added));
            continue;
        }
        replaced_.push_back(added.text.name);
        if (added.users_own) *known = std::move(added);
    }
    std::ranges::sort(entries_, {}, [](const Entry& e) { return std::string_view(e.text.name); });
    std::ranges::sort(replaced_);
}

const Catalog::Entry* Catalog::entry(std::string_view name) const {
    const auto found =
        std::ranges::lower_bound(entries_, name, {}, [](const Entry& e) { return std::string_view(e.text.name); });
    return found == entries_.end() || found->text.name != name ? nullptr : &*found;
}

const Loaded<Part>* Catalog::find(std::string_view name) const {
    const Entry* found = entry(name);
    if (found == nullptr) return nullptr;
    if (!found->loaded) found->loaded = std::make_shared<const Loaded<Part>>(read_part(found->text));
    return found->loaded.get();
}

std::shared_ptr<const Part> Catalog::share(std::string_view name) const {
    const Loaded<Part>* loaded = find(name);
    if (loaded == nullptr || !loaded->value) return nullptr;
    return {entry(name)->loaded, &*loaded->value};
}

std::vector<std::string_view> Catalog::names() const {
    std::vector<std::string_view> names;
    names.reserve(entries_.size());
    for (const Entry& known : entries_) names.emplace_back(known.text.name);
    return names;
}

std::vector<std::string_view> Catalog::names_with(std::string_view kind) const {
    const std::string quoted = fmt::format("\"{}\"", kind);
    std::vector<std::string_view> names;
    for (const Entry& known : entries_)
        if (known.text.file.text.find(quoted) != std::string_view::npos) names.emplace_back(known.text.name);
    return names;
}

bool Catalog::is_users_own(std::string_view name) const {
    const Entry* found = entry(name);
    return found != nullptr && found->users_own;
}

} // namespace trivet
