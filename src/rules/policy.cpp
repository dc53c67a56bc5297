#include "rules/policy.h"

#include "expr/parse.h"
#include "source/suggest.h"
#include "source/toml_reader.h"
#include "source/utf8.h"
#include "units/format.h"
#include "units/parse.h"

#include <fmt/format.h>

#include <algorithm>

namespace trivet {
namespace {

std::optional<PolicyItem> read_item(TableReader& reader) {
    PolicyItem item;
    item.name = reader.key();
    item.place = reader.place();
    const auto dimension_name = reader.required_text("dimension");
    const DimensionLookup dimension = dimension_called(dimension_name ? dimension_name->value : "number");
    if (!dimension.found) {
        reader.error(ErrorKind::unknown_name, dimension_name->place,
                     fmt::format("'{}' is not a dimension", shown(dimension_name->value)),
                     "write number, voltage, current, length, temperature difference, ...");
    }
    const auto value = reader.required_quantity("value", dimension.dimension);
    const auto text = reader.required_text("text");
    const auto source = reader.required_text("source");
    reader.finish();
    if (!dimension_name || !dimension.found || !value || !text || !source) return {};
    item.value = value->value;
    item.shipped = value->value;
    item.text = text->value;
    item.source = source->value;
    return item;
}

} // namespace

const PolicyItem* Policy::find(std::string_view name) const {
    const auto found = std::ranges::find(items, name, &PolicyItem::name);
    return found == items.end() ? nullptr : &*found;
}

Loaded<Policy> read_policy(const SourceFile& file) {
    Loaded<Document> document = parse_document(file);
    Loaded<Policy> result{Policy{}, std::move(document.errors)};
    if (!document.value || !result.errors.empty()) return {std::nullopt, std::move(result.errors)};
    TableReader root(*document.value, document.value->root(), result.errors);
    for (TableReader& table : root.named_tables()) {
        if (is_reserved_word(table.key())) {
            table.error(ErrorKind::duplicate_name, table.place(),
                        fmt::format("'{}' is a word of the rule language", table.key()), "choose another name");
        }
        if (auto item = read_item(table)) result.value->items.push_back(std::move(*item));
    }
    root.finish();
    return result;
}

Errors apply(Policy& policy, std::string_view name, std::string_view text, Place place) {
    const auto item = std::ranges::find(policy.items, name, &PolicyItem::name);
    if (item == policy.items.end()) {
        std::vector<std::string_view> names;
        for (const PolicyItem& known : policy.items) names.push_back(known.name);
        return {{ErrorKind::unknown_name, place, fmt::format("'{}' is not an item of the policy", shown(name)),
                 did_you_mean(name, names)}};
    }
    auto read = parse_quantity(text, item->value.dimension);
    if (!read) {
        return {{ErrorKind::bad_quantity, place, fmt::format("{}: {}", item->name, read.error().message),
                 std::move(read.error().hint)}};
    }
    if (read->si < 0.0) {
        return {{ErrorKind::out_of_range, place,
                 fmt::format("{} is {}, but it cannot be negative", item->name, to_text(*read)),
                 fmt::format("Trivet's own value is {}", to_text(item->shipped))}};
    }
    item->value = *read;
    item->changed = *read != item->shipped;
    item->place = place;
    return {};
}

} // namespace trivet
