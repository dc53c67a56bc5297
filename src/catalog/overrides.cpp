#include "catalog/read_element.h"
#include "catalog/read_part.h"
#include "source/suggest.h"

#include <fmt/format.h>

namespace trivet {
namespace {

// A key of the design's table and the first kind of element that knows it.
struct Hit {
    std::string_view key;
    std::size_t kind = 0;
};

void list_hits(TableReader& use, Part& part, std::vector<Hit>& hits) {
    std::array<bool, element_kind_names.size()> seen{};
    for (Element& element : part.elements) {
        const std::size_t kind = element.body.index();
        if (std::exchange(seen.at(kind), true)) continue;
        PropertySource source(use, part, part.basis, Purpose::list);
        read_element(source, element.body);
        for (const std::string_view key : source.listed()) hits.push_back({key, kind});
    }
}

// True when no key fits two kinds of element.
bool unambiguous(TableReader& use, const std::vector<Hit>& hits) {
    bool clear = true;
    for (std::size_t i = 0; i < hits.size(); ++i) {
        for (std::size_t j = i + 1; j < hits.size(); ++j) {
            if (hits[i].key != hits[j].key) continue;
            const std::string_view key = hits[i].key;
            const std::string_view first = element_kind_names.at(hits[i].kind);
            const std::string_view second = element_kind_names.at(hits[j].kind);
            use.error(ErrorKind::ambiguous, use.place_of(key).value_or(use.place()),
                      fmt::format("'{}' could belong to the {} or to the {} of this part", key, first, second),
                      fmt::format("write it in a table of the element, for example [part.{}.{}]", use.key(), first));
            clear = false;
        }
    }
    return clear;
}

class Overrides {
public:
    Overrides(TableReader& use, Part& part)
        : use_(use)
        , part_(part) {}

    void apply() {
        list_hits(use_, part_, hits_);
        for (const Hit& hit : hits_) needs_basis_ |= hit.key != "output";
        stated_basis_ = use_.word("basis", basis_names);
        restate_part();
        if (unambiguous(use_, hits_)) {
            for (Element& element : part_.elements) restate(use_, element, basis(stated_basis_));
        }
        for (TableReader& table : use_.named_tables()) sub_table(table);
        refuse_values_for_elements();
        if (needs_basis_ && !use_.has("basis")) {
            use_.error(ErrorKind::missing_key, use_.place(),
                       fmt::format("'{}' states values of its own, but not how they are known", use_.key()),
                       "say how you know: basis = \"measured\" or \"datasheet\"");
        }
        check_links(part_, use_.errors());
    }

private:
    using Word = std::optional<Stated<std::size_t>>;

    // A setting without `basis` is what the builder set and read off: measured.
    static Basis basis(const Word& word) { return word ? static_cast<Basis>(word->value) : Basis::measured; }

    void restate_part() {
        PropertySource known(use_, part_, part_.basis, Purpose::list);
        read_part_values(known, part_);
        needs_basis_ |= !known.listed().empty();
        PropertySource source(use_, part_, basis(stated_basis_), Purpose::restate);
        read_part_values(source, part_);
    }

    void restate(TableReader& reader, Element& element, Basis basis) {
        PropertySource source(reader, part_, basis, Purpose::restate);
        read_element(source, element.body);
    }

    void sub_table(TableReader& table) {
        if (is_hit(table.key())) return; // a value: rated = { ... }
        if (table.key() == "terminal") return terminals(table);
        const auto element = std::ranges::find(part_.elements, table.key(), &Element::name);
        if (element == part_.elements.end()) {
            std::vector<std::string_view> names;
            for (const Element& known : part_.elements) names.push_back(known.name);
            use_.error(ErrorKind::unknown_name, table.place(),
                       fmt::format("the part '{}' has no element '{}'", part_.name, table.key()),
                       did_you_mean(table.key(), names));
            return;
        }
        const Word word = table.has("basis") ? table.word("basis", basis_names) : stated_basis_;
        restate(table, *element, basis(word));
        table.finish();
        needs_basis_ |= !table.has("basis") && !only_output(table);
    }

    // heater = "9.5 ohm": an element has several values, so it takes a table.
    void refuse_values_for_elements() {
        for (const Element& element : part_.elements) {
            const auto kind = use_.kind_of(element.name);
            if (!kind || *kind == NodeKind::table || *kind == NodeKind::unreadable || is_hit(element.name)) continue;
            use_.error(ErrorKind::wrong_type, use_.place_of(element.name).value_or(use_.place()),
                       fmt::format("'{}' is an element of '{}' and has several values", element.name, part_.name),
                       fmt::format("say which: [part.{}.{}] and the value below it", use_.key(), element.name));
        }
    }

    bool is_hit(std::string_view key) const { return std::ranges::find(hits_, key, &Hit::key) != hits_.end(); }

    static bool only_output(const TableReader& table) {
        return std::ranges::all_of(table.children(), [](const Node* child) { return child->key == "output"; });
    }

    void terminals(TableReader& tables) {
        for (TableReader& table : tables.named_tables()) {
            const int index = part_.terminal(table.key());
            if (index < 0) {
                use_.error(ErrorKind::unknown_name, table.place(),
                           fmt::format("the part '{}' has no terminal '{}'", part_.name, table.key()),
                           did_you_mean(table.key(), terminal_names(part_)));
                continue;
            }
            const Word word = table.has("basis") ? table.word("basis", basis_names) : stated_basis_;
            read_terminal(table, part_, basis(word), Purpose::restate,
                          part_.terminals[static_cast<std::size_t>(index)]);
            needs_basis_ |= !table.has("basis");
            table.finish();
        }
        tables.finish();
    }

    TableReader& use_;
    Part& part_;
    std::vector<Hit> hits_;
    Word stated_basis_;
    bool needs_basis_ = false;
};

} // namespace

std::shared_ptr<const Part> Catalog::with_overrides(std::string_view name, TableReader& use) const {
    std::shared_ptr<const Part> shared = share(name);
    if (!shared || !use.anything_left()) return shared;
    auto changed = std::make_shared<Part>(*shared);
    Overrides(use, *changed).apply();
    return changed;
}

} // namespace trivet
