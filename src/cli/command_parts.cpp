#include "cli/commands.h"
#include "cli/exit_status.h"
#include "cli/library.h"
#include "cli/part_page.h"
#include "cli/terminal.h"
#include "report/errors.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>

namespace trivet {

namespace {

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

// All words must occur in name, title or category.
bool fits(const Part& part, const std::vector<std::string>& words) {
    const std::string text = lower(part.name + " " + part.title + " " + part.category);
    return std::ranges::all_of(words,
                               [&](const std::string& word) { return text.find(lower(word)) != std::string::npos; });
}

CommandResult not_found(const Catalog& catalog, const std::vector<std::string>& words) {
    std::string asked;
    for (const std::string& word : words) asked += (asked.empty() ? "" : " ") + word;
    const auto names = catalog.names();
    const std::string_view near = nearest(asked, names);
    const std::string hint = near.empty()
                                 ? "try a single word such as relay, fuse or 24v; trivet parts lists everything"
                                 : fmt::format("did you mean '{}'?", near);
    return {{}, fmt::format("trivet: no part fits '{}'; {}\n", asked, hint), exit_unreadable};
}

} // namespace

CommandResult parts(const PartsArguments& arguments) {
    Sources sources;
    Loaded<Catalog> catalog = load_catalog(sources, arguments.folders, {});
    std::map<std::string, std::string> by_category;
    std::size_t width = 0;
    for (const std::string_view name : catalog.value->names()) width = std::max(width, name.size());
    for (const std::string_view name : catalog.value->names()) {
        const Loaded<Part>* part = catalog.value->find(name);
        catalog.errors.insert(catalog.errors.end(), part->errors.begin(), part->errors.end());
        if (!part->value) continue;
        if (arguments.words.size() == 1 && arguments.words.front() == name)
            return {part_page(*part->value, sources), {}, exit_fit};
        if (fits(*part->value, arguments.words))
            by_category[part->value->category] += fmt::format("  {:<{}}  {}\n", name, width, part->value->title);
    }
    if (!catalog.errors.empty()) {
        tidy(catalog.errors);
        return {{}, text_of_errors(catalog.errors, sources, wants_colour()), exit_unreadable};
    }
    if (by_category.empty()) return not_found(*catalog.value, arguments.words);
    std::string out;
    for (const auto& [category, lines] : by_category)
        out += fmt::format("{}{}\n{}", out.empty() ? "" : "\n", category, lines);
    return {out + "\ntrivet parts NAME shows one part with all its values.\n", {}, exit_fit};
}

} // namespace trivet
