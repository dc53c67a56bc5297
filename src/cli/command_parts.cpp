#include "cli/exit_status.h"
#include "cli/loaded_design.h"
#include "cli/part_page.h"
#include "cli/part_search.h"
#include "source/suggest.h"
#include "units/format.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

namespace trivet {

namespace {

struct Hit {
    const Part* part = nullptr;
    PartMatch match;
    bool users_own = false;
};

std::string as_read(const PartQuery& query) {
    std::vector<std::string> read;
    for (const AnyQuantity& asked : query.asked) read.push_back(to_text(asked));
    return fmt::format("{}", fmt::join(read, ", "));
}

CommandResult not_found(const Catalog& catalog, const std::vector<std::string>& words, const PartQuery& query) {
    const std::string asked = fmt::format("{}", fmt::join(words, " "));
    const auto names = catalog.names();
    const std::string_view near = nearest(asked, names);
    std::string hint = "try a single word such as relay, fuse or 24v; trivet parts lists everything";
    if (!query.asked.empty())
        hint =
            fmt::format("read as: {}. A part whose rating is not stated is left out; try fewer words", as_read(query));
    if (!near.empty()) hint = fmt::format("did you mean '{}'?", near);
    return {{}, fmt::format("trivet: no part fits '{}'; {}\n", asked, hint), exit_unreadable};
}

// What was asked for decides the order; without a quantity it is the name.
void list(std::string& out, std::vector<Hit> hits, std::size_t name_width, std::size_t deciding_width) {
    std::ranges::stable_sort(hits, {}, [](const Hit& hit) { return hit.match.spare; });
    for (const Hit& hit : hits) {
        out += fmt::format("  {:<{}}", hit.part->name, name_width);
        if (deciding_width > 0) out += fmt::format("  {:<{}}", hit.match.deciding, deciding_width);
        out += fmt::format("  {}{}\n", hit.part->title, hit.users_own ? " (your own part)" : "");
    }
}

std::string listing(const std::map<std::string, std::vector<Hit>>& by_category, const PartQuery& query) {
    std::size_t name_width = 0;
    std::size_t deciding_width = 0;
    for (const auto& [category, hits] : by_category) {
        for (const Hit& hit : hits) {
            name_width = std::max(name_width, hit.part->name.size());
            deciding_width = std::max(deciding_width, hit.match.deciding.size());
        }
    }
    std::string out;
    for (const auto& [category, hits] : by_category) {
        out += fmt::format("{}{}\n", out.empty() ? "" : "\n", category);
        list(out, hits, name_width, deciding_width);
    }
    if (!query.asked.empty())
        out +=
            fmt::format("\nRead as: {}{}. What switches, protects or connects is rated for at least that; what gives "
                        "or\nuses power is made for it. Parts whose rating is not stated are left out.\n",
                        as_read(query), query.alternating ? " AC" : "");
    return out + "\ntrivet parts NAME shows one part with all its values.\n";
}

} // namespace

CommandResult parts(const PartsArguments& arguments) {
    Sources sources;
    Loaded<Catalog> catalog = load_catalog(sources, arguments.folders, {});
    const PartQuery query = read_query(arguments.words);
    std::map<std::string, std::vector<Hit>> by_category;
    for (const std::string_view name : catalog.value->names()) {
        const Loaded<Part>* part = catalog.value->find(name);
        catalog.errors.insert(catalog.errors.end(), part->errors.begin(), part->errors.end());
        if (!part->value) continue;
        if (arguments.words.size() == 1 && arguments.words.front() == name)
            return {part_page(*part->value, sources), {}, exit_fit};
        if (auto found = match(*part->value, query))
            by_category[part->value->category].push_back(
                {&*part->value, std::move(*found), catalog.value->is_users_own(name)});
    }
    if (!catalog.errors.empty()) return not_read(catalog.errors, sources);
    if (by_category.empty()) return not_found(*catalog.value, arguments.words, query);
    return {listing(by_category, query), {}, exit_fit};
}

} // namespace trivet
