#include "design/read_design.h"

#include "catalog/bounds.h"
#include "design/reading.h"

#include <fmt/format.h>

#include <array>

namespace trivet {
namespace {

constexpr double format_version = 1.0;

// False when the file is of a format that this program does not know: then no other error of it would be true.
bool known_version(Reading& reading, TableReader& root) {
    const auto version = root.number("trivet");
    if (!root.has("trivet")) {
        reading.error(ErrorKind::missing_key, root.place(), "the format version is missing",
                      "begin the file with trivet = 1");
    }
    if (!version || version->value == format_version) return true;
    reading.error(
        ErrorKind::unsupported_version, version->place,
        fmt::format("this file says that it is written in format {}, but only format 1 is known", version->value),
        "write trivet = 1, or use a newer program");
    return false;
}

void read_build(Reading& reading, TableReader& root) {
    auto build = root.table("build");
    if (!build) {
        if (root.has("build")) return;
        reading.error(ErrorKind::missing_key, root.place(), "the section [build] is missing",
                      "add [build] with title = \"...\" and ambient = \"10..35 °C\"");
        return;
    }
    Design& design = reading.design;
    if (const auto title = build->required_text("title")) design.title = title->value;
    if (const auto purpose = build->text("purpose")) design.purpose = purpose->value;
    const auto ambient = build->required_range("ambient", dim::temperature);
    if (ambient && within(*build, "ambient", *ambient, Bounds::not_negative)) {
        design.ambient = {{{ambient->value.lo}, {ambient->value.hi}}, ambient->place};
    }
    design.attended = build->flag("attended");
    build->finish();
}

void read_policy_changes(Reading& reading, TableReader& root) {
    auto policy = root.table("policy");
    if (!policy) return;
    for (const Node* child : policy->children()) {
        PolicyChange change{.name = std::string(child->key), .text = {}, .place = child->place};
        if (child->kind == NodeKind::text) {
            change.text = child->text;
        } else if (child->kind == NodeKind::number || child->kind == NodeKind::integer) {
            change.text = fmt::format("{}", child->number);
        } else if (child->kind != NodeKind::unreadable) {
            reading.error(ErrorKind::wrong_type, child->place,
                          fmt::format("'{}' is neither a number nor a quantity", child->key),
                          fmt::format("write for example {} = 0.8", child->key));
        }
        reading.design.policy.push_back(std::move(change));
    }
}

void check_not_empty(Reading& reading, TableReader& root) {
    if (!root.has("part")) {
        reading.error(ErrorKind::missing_key, root.place(), "this design has no parts",
                      "add each part you use: [part.supply] and is = \"...\" below it");
    }
    if (!root.has("wire") && !root.has("wires")) {
        reading.error(ErrorKind::missing_key, root.place(), "this design has no wires",
                      "join terminals with [[wire]], or with wires = [\"supply.+ -> fuse.in : 1.0mm2 pvc 25 cm RD\"]");
    }
}

// A band is where an on/off control leaves the heat on or off; one that doses it finely has none.
void read_method(Reading& reading, TableReader& table, Control& control) {
    constexpr std::array<std::string_view, 2> methods{"two-point", "proportional"};
    const auto method = table.word("method", methods);
    control.proportional = method && method->value == 1;
    if (!control.proportional || !control.band) return;
    reading.error(ErrorKind::ambiguous, control.band->place,
                  "a proportional control doses the heat finely and has no band in which it switches",
                  "take 'band' out, or write method = \"two-point\"");
}

} // namespace

void read_controls(Reading& reading, TableReader& root) {
    std::unordered_set<std::string> names;
    for (TableReader& table : root.tables("control")) {
        Control control;
        control.place = table.place();
        if (const auto name = table.required_text("name")) {
            control.name = name->value;
            if (!names.insert(control.name).second) {
                reading.error(ErrorKind::duplicate_name, name->place,
                              fmt::format("two controls are called '{}'", name->value),
                              "give one of them another name");
            }
        }
        control.senses = reading.find_parts(table.texts("senses"));
        control.drives = reading.find_parts(table.texts("drives"));
        control.setpoint = bounded_range<dim::temperature>(table, "setpoint");
        control.band = bounded_range<dim::temperature_difference>(table, "band");
        control.every = bounded_range<dim::time>(table, "every", Bounds::positive);
        control.firmware_limit = bounded_range<dim::temperature>(table, "firmware_limit");
        read_method(reading, table, control);
        control.never_with = reading.find_parts(table.texts("never_with"));
        table.finish();
        reading.design.controls.push_back(std::move(control));
    }
}

Loaded<Design> read_design(const SourceFile& file, const Catalog& catalog, const DesignLimits& limits) {
    Loaded<Document> document = parse_document(file);
    Loaded<Design> result;
    if (!document.value) {
        result.errors = std::move(document.errors);
        return result;
    }
    Reading reading(catalog, limits);
    reading.design.file = file.id;
    TableReader root(*document.value, document.value->root(), reading.errors);
    if (known_version(reading, root)) {
        read_build(reading, root);
        check_not_empty(reading, root);
        read_parts(reading, root);
        read_bodies(reading, root);
        place_parts(reading);
        read_wires(reading, root);
        read_controls(reading, root);
        read_heat_paths(reading, root);
        check_ways_to_room(reading);
        check_settings(reading);
        read_policy_changes(reading, root);
        root.finish();
    }
    result.errors = std::move(document.errors);
    result.errors.insert(result.errors.end(), std::make_move_iterator(reading.errors.begin()),
                         std::make_move_iterator(reading.errors.end()));
    tidy(result.errors);
    if (result.errors.empty()) result.value = std::move(reading.design);
    return result;
}

} // namespace trivet
