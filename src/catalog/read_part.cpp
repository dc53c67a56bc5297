#include "catalog/read_part.h"

#include "catalog/names.h"
#include "catalog/read_element.h"
#include "source/suggest.h"

#include <fmt/format.h>

#include <unordered_set>

namespace trivet {
namespace {

constexpr std::size_t most_terminals = 1000;
constexpr std::size_t most_elements = 4000;

Basis basis_of(TableReader& reader, Basis otherwise) {
    const auto word = reader.word("basis", basis_names);
    return word ? static_cast<Basis>(word->value) : otherwise;
}

void read_terminal_names(TableReader& reader, Part& part) {
    if (!reader.has("terminals")) {
        reader.error(ErrorKind::missing_key, reader.place(), fmt::format("'terminals' is missing in '{}'", part.name),
                     "list where wires end, for example terminals = [\"+\", \"-\"]; for a wire: terminals = []");
        return;
    }
    std::unordered_set<std::string_view> seen;
    for (const auto& name : reader.texts("terminals")) {
        if (!is_terminal_name(name.value)) {
            reader.error(ErrorKind::out_of_range, name.place,
                         fmt::format("'{}' cannot be the name of a terminal", name.value),
                         "use visible characters other than : > and quotes");
        } else if (!seen.insert(name.value).second) {
            reader.error(ErrorKind::duplicate_name, name.place,
                         fmt::format("the terminal '{}' is listed twice", name.value),
                         "give every terminal a name of its own");
        } else if (part.terminals.size() == most_terminals) {
            reader.error(ErrorKind::too_large, name.place,
                         fmt::format("the part has more than {} terminals", most_terminals), "split it into parts");
            return;
        } else {
            part.terminals.emplace_back().name = name.value;
        }
    }
}

void read_terminal_tables(TableReader& reader, Part& part) {
    auto tables = reader.table("terminal");
    if (!tables) return;
    for (TableReader& table : tables->named_tables()) {
        const int index = part.terminal(table.key());
        if (index < 0) {
            reader.error(ErrorKind::unknown_name, table.place(),
                         fmt::format("the part '{}' has no terminal '{}'", part.name, table.key()),
                         did_you_mean(table.key(), terminal_names(part)));
            continue;
        }
        const Basis basis = basis_of(table, part.basis);
        read_terminal(table, part, basis, Purpose::define, part.terminals[static_cast<std::size_t>(index)]);
        table.finish();
    }
    tables->finish();
}

std::string counted_name(std::string_view kind, std::size_t count) {
    return count == 1 ? std::string(kind) : fmt::format("{}-{}", kind, count);
}

// The element's own name, or nothing when it has none or the name is refused.
std::string given_name(TableReader& reader) {
    const auto name = reader.text("name");
    if (!name) return {};
    if (is_plain_name(name->value)) return std::string(name->value);
    reader.error(ErrorKind::out_of_range, name->place,
                 fmt::format("'{}' cannot be the name of an element", name->value), "use letters, digits, _ and -");
    return {};
}

// One [[part.element]] with `terminals = [...]` stands for one pin per terminal.
void add_pins(TableReader& reader, Part& part, Element pin, const std::vector<Stated<std::string_view>>& terminals) {
    for (const auto& name : terminals) {
        const int index = part.terminal(name.value);
        if (index < 0) {
            reader.error(ErrorKind::unknown_name, name.place,
                         fmt::format("the part '{}' has no terminal '{}'", part.name, name.value),
                         did_you_mean(name.value, terminal_names(part)));
            continue;
        }
        std::get<PinElement>(pin.body).terminal = {static_cast<std::uint16_t>(index)};
        pin.name = fmt::format("pin-{}", name.value);
        part.elements.push_back(pin);
    }
}

void add_element(TableReader& reader, Part& part, std::array<std::size_t, element_kind_names.size()>& counts) {
    const auto kind = reader.required_word("kind", element_kind_names);
    if (!kind) return;
    Element element{.name = given_name(reader), .body = empty_element(kind->value), .place = reader.place()};
    PropertySource source(reader, part, basis_of(reader, part.basis), Purpose::define);
    source.typical_keys(reader.texts("typical"));
    if (auto* pin = std::get_if<PinElement>(&element.body)) {
        const bool many = reader.has("terminals");
        const auto terminals = reader.texts("terminals");
        source.many_terminals(many);
        read_element(source, element.body);
        reader.finish();
        source.check_typical_keys();
        if (many) return add_pins(reader, part, std::move(element), terminals);
        if (element.name.empty() && pin->terminal.value < part.terminals.size()) {
            element.name = fmt::format("pin-{}", part.terminals[pin->terminal.value].name);
        }
    } else {
        read_element(source, element.body);
        reader.finish();
        source.check_typical_keys();
    }
    if (element.name.empty()) element.name = counted_name(element_kind_names.at(kind->value), ++counts.at(kind->value));
    part.elements.push_back(std::move(element));
}

void read_elements(TableReader& reader, Part& part) {
    std::array<std::size_t, element_kind_names.size()> counts{};
    for (TableReader& table : reader.tables("element")) {
        if (part.elements.size() > most_elements) {
            reader.error(ErrorKind::too_large, table.place(),
                         fmt::format("the part has more than {} elements", most_elements), "split it into parts");
            return;
        }
        add_element(table, part, counts);
    }
    std::unordered_set<std::string_view> names;
    for (const Element& element : part.elements) {
        if (names.insert(element.name).second) continue;
        reader.error(ErrorKind::duplicate_name, element.place,
                     fmt::format("two elements of '{}' are called '{}'", part.name, element.name),
                     "give one of them another name = \"...\"");
    }
}

std::string required_text(TableReader& reader, std::string_view key) {
    const auto text = reader.required_text(key);
    return text ? std::string(text->value) : std::string();
}

void read_part_table(TableReader& reader, Part& part) {
    part.name = reader.key();
    part.place = reader.place();
    part.title = required_text(reader, "title");
    part.source = required_text(reader, "source");
    const auto basis = reader.required_word("basis", basis_names);
    if (basis) part.basis = static_cast<Basis>(basis->value);
    PropertySource values(reader, part, part.basis, Purpose::define);
    values.typical_keys(reader.texts("typical"));
    read_part_values(values, part);
    values.check_typical_keys();
    read_terminal_names(reader, part);
    read_terminal_tables(reader, part);
    read_elements(reader, part);
    if (reader.errors().empty() && part.elements.empty() && part.terminals.empty()) {
        reader.error(ErrorKind::missing_key, part.place,
                     fmt::format("the part '{}' has neither terminals nor elements", part.name),
                     fmt::format("say what it is made of: [[{}.element]]", part.name));
    }
    reader.finish();
    check_links(part, reader.errors());
    check_values(part, reader.errors());
}

} // namespace

void read_part_values(PropertySource& source, Part& part) { source.range("temperature_limit", part.temperature_limit); }

void read_terminal(TableReader& reader, const Part& part, Basis basis, Purpose purpose, TerminalSpec& terminal) {
    PropertySource source(reader, part, basis, purpose);
    source.word("kind", terminal.kind, terminal_kind_names);
    source.range("area", terminal.area, Bounds::positive);
    source.range("rated_current", terminal.rated_current, Bounds::positive);
    if (purpose == Purpose::define) source.flag("mains", terminal.mains);
}

Loaded<Part> read_part(const PartText& text) {
    const Loaded<Document> document = parse_document(text.file);
    Loaded<Part> loaded{std::nullopt, document.errors};
    if (!document.value) return loaded;
    TableReader root(*document.value, document.value->root(), loaded.errors);
    Part part;
    part.category = text.category;
    auto table = root.table(text.name);
    if (table) read_part_table(*table, part);
    root.finish();
    tidy(loaded.errors);
    if (loaded.errors.empty() && table) loaded.value = std::move(part);
    return loaded;
}

} // namespace trivet
