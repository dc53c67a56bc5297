#include "catalog/bounds.h"
#include "design/reading.h"

#include <fmt/format.h>

namespace trivet {
namespace {

class PartReader {
public:
    explicit PartReader(Reading& reading)
        : reading_(reading) {}

    void read(TableReader& use) {
        PartUse part;
        part.name = use.key();
        part.place = use.place();
        reading_.good_name(use.key(), use.place());
        const auto is = use.required_text("is");
        Sitting sitting{.part = {},
                        .mounted_on = use.text("mounted_on"),
                        .beside = use.text("beside"),
                        .sees = use.text("sees"),
                        .bonded_to = use.text("bonded_to")};
        auto pins = use.table("pins");
        part.ambient = bounded_range<dim::temperature>(use, "ambient");
        if (const auto note = use.text("note")) part.note = note->value;
        if (is) part.is = is->value;
        if (is && known(*is)) part.part = reading_.catalog.with_overrides(is->value, use);
        if (part.part) {
            check_use(part, *is, use.has("output"));
        } else {
            use.children(); // nobody can say which keys an unknown part has
        }
        if (pins) read_pins(*pins, part);
        use.finish();
        const PartId id{static_cast<std::uint32_t>(reading_.design.parts.size())};
        sitting.part = id;
        if (sitting.mounted_on || sitting.beside || sitting.sees || sitting.bonded_to)
            reading_.sittings.push_back(sitting);
        reading_.part_ids.emplace(use.key(), id);
        reading_.design.parts.push_back(std::move(part));
    }

private:
    // Files the errors of the part's own text once.
    bool known(const Stated<std::string_view>& is) {
        const Loaded<Part>* loaded = reading_.catalog.find(is.value);
        if (loaded == nullptr) {
            reading_.error(ErrorKind::unknown_name, is.place, fmt::format("there is no part called '{}'", is.value),
                           reading_.library_hint(is.value));
            return false;
        }
        if (!loaded->errors.empty() && reported_.insert(is.value).second) {
            reading_.errors.insert(reading_.errors.end(), loaded->errors.begin(), loaded->errors.end());
        }
        return loaded->value.has_value();
    }

    void check_use(const PartUse& use, const Stated<std::string_view>& is, bool output_stated) {
        for (const Element& element : use.part->elements) {
            if (std::holds_alternative<WireElement>(element.body)) {
                reading_.error(ErrorKind::wrong_type, is.place, fmt::format("'{}' is a wire, not a part", is.value),
                               fmt::format("write it in a wire: use = \"{}\"", is.value));
            }
            if (std::holds_alternative<MaterialElement>(element.body)) {
                reading_.error(ErrorKind::wrong_type, is.place, fmt::format("'{}' is a material, not a part", is.value),
                               fmt::format("write it in a body: material = \"{}\"", is.value));
            }
            const auto* converter = std::get_if<ConverterElement>(&element.body);
            if (converter != nullptr && converter->adjustable && !converter->output_voltage && !output_stated) {
                reading_.error(ErrorKind::missing_key, use.place,
                               fmt::format("'{}' can be set, but nothing says to which output", use.name),
                               "write where it is set, for example output = \"5 V\"");
            }
        }
    }

    void read_pins(TableReader& pins, PartUse& use) {
        for (const Node* pin : pins.children()) {
            if (pin->kind != NodeKind::text) {
                reading_.error(ErrorKind::wrong_type, pin->place,
                               fmt::format("the pin '{}' needs a word in quotes", pin->key),
                               fmt::format("write {} = \"{}\"", pin->key, pin_mode_names.front()));
                continue;
            }
            if (std::ranges::find(pin_mode_names, pin->text) == pin_mode_names.end()) {
                reading_.error(ErrorKind::unknown_name, pin->place,
                               fmt::format("'{}' is nothing a pin can be configured as", pin->text),
                               reading_.hint(pin->text, pin_mode_names));
            }
            if (use.part) check_pin(*pin, use);
            use.pins.emplace(pin->key, Stated<std::string>{std::string(pin->text), pin->place});
        }
    }

    void check_pin(const Node& node, const PartUse& use) {
        std::vector<std::string_view> names;
        for (const Element& element : use.part->elements) {
            const auto* pin = std::get_if<PinElement>(&element.body);
            if (pin != nullptr) names.push_back(use.part->terminals[pin->terminal.value].name);
        }
        if (std::ranges::find(names, node.key) != names.end()) return;
        reading_.error(ErrorKind::unknown_name, node.key_place,
                       fmt::format("'{}' has no pin '{}' that firmware configures", use.name, node.key),
                       reading_.hint(node.key, names));
    }

    Reading& reading_;
    std::unordered_set<std::string_view> reported_;
};

} // namespace

void read_parts(Reading& reading, TableReader& root) {
    auto section = root.table("part");
    if (!section) return;
    auto uses = section->named_tables();
    section->finish();
    if (uses.size() > reading.limits.parts) {
        reading.error(ErrorKind::too_large, uses[reading.limits.parts].place(),
                      fmt::format("the design has {} parts, but {} are the most", uses.size(), reading.limits.parts),
                      "split the design");
        return;
    }
    reading.design.parts.reserve(uses.size());
    reading.part_ids.reserve(uses.size());
    PartReader reader(reading);
    for (TableReader& use : uses) reader.read(use);
}

} // namespace trivet
